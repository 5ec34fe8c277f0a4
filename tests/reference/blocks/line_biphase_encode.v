// Biphase-mark transmitter, a tick each half cell, with a closing transition and a low tail.
// twin: block=line-code settings="code=biphase-mark direction=encode" top=line_biphase_encode
module line_biphase_encode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire transmit,
    input wire data,
    output reg line,
    output reg line_enable,
    output wire ready
);
  reg middle, tail, held;
  assign ready = !middle && !tail;
  always @(posedge clock)
    if (reset) begin
      line <= 1'b0;
      line_enable <= 1'b0;
      middle <= 1'b0;
      tail <= 1'b0;
      held <= 1'b0;
    end else if (enable) begin
      held <= data;
      middle <= 1'b0;
      if (tail) begin
        line <= 1'b0;
        if (!middle) begin
          tail <= 1'b0;
          line_enable <= 1'b0;
        end
      end else if (middle) begin
        if (held) line <= !line;
      end else if (transmit) begin
        line <= !line;
        line_enable <= 1'b1;
        middle <= 1'b1;
      end else if (line_enable) begin
        line <= !line;
        tail <= 1'b1;
        middle <= 1'b1;
      end
    end
endmodule

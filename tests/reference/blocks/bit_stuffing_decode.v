// Removal of the zero after five ones; a sixth one is a violation.
// twin: block=bit-stuffing settings="run=5 direction=decode" top=bit_stuffing_decode
module bit_stuffing_decode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire data,
    output reg plain,
    output reg plain_valid,
    output reg violation
);
  reg [2:0] ones;
  wire full = ones == 3'd5;
  always @(posedge clock) begin
    if (reset) begin
      ones <= 3'd0;
      plain <= 1'b0;
      plain_valid <= 1'b0;
      violation <= 1'b0;
    end else begin
      plain_valid <= enable && !full;
      violation <= enable && full && data;
      if (enable) begin
        plain <= data;
        if (!data) ones <= 3'd0;
        else if (!full) ones <= ones + 3'd1;
      end
    end
  end
endmodule

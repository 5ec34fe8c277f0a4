// NRZI receiver, 8 samples a bit: the bit timer restarts at every transition.
// twin: block=line-code settings="code=nrzi direction=decode oversampling=8" top=line_nrzi_decode
module line_nrzi_decode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire line,
    output reg data,
    output reg data_valid,
    output wire carrier
);
  reg [3:0] samples;
  reg level, previous, last;
  reg [2:0] timer;
  reg [3:0] quiet;
  wire edge_found = level != previous;
  wire sample = timer == 3'd3;
  assign carrier = quiet != 4'd15;
  always @(posedge clock) begin
    data_valid <= 1'b0;
    if (reset) begin
      samples <= 4'd0;
      level <= 1'b0;
      previous <= 1'b0;
      last <= 1'b0;
      timer <= 3'd0;
      quiet <= 4'd15;
      data <= 1'b0;
    end else if (enable) begin
      samples <= {samples[2:0], line};
      level <= (samples[1] & samples[2]) | (samples[1] & samples[3]) | (samples[2] & samples[3]);
      previous <= level;
      timer <= edge_found ? 3'd0 : timer + 3'd1;
      if (edge_found) quiet <= 4'd0;
      else if (sample && carrier) quiet <= quiet + 4'd1;
      if (sample) last <= level;
      if (sample && carrier) begin
        data <= level == last;
        data_valid <= 1'b1;
      end
    end
  end
endmodule

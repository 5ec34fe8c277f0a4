// Additive scrambler, x^31 + x^28 + 1, eight bits a clock, combinational outputs.
// twin: block=scrambler settings="width=31 polynomial=0x10000001 bits_per_clock=8" top=scrambler_parallel
module scrambler_parallel (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [7:0] data,
    output wire [7:0] scrambled
);
  reg [30:0] state;
  wire [38:0] history;
  genvar i;
  // history[38] is the oldest bit; new bits are history[7:0], the first of them history[7].
  assign history[38:8] = state;
  generate
    for (i = 0; i < 8; i = i + 1) begin : feedback
      assign history[i] = history[i+31] ^ history[i+28];
      assign scrambled[7-i] = data[7-i] ^ history[i];
    end
  endgenerate
  always @(posedge clock)
    if (reset) state <= {31{1'b1}};
    else if (enable) state <= history[30:0];
endmodule

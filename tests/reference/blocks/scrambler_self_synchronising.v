// Self-synchronising scrambler, x^58 + x^39 + 1, 64 bits a clock.
// twin: block=scrambler settings="width=58 polynomial=0x8000000001 bits_per_clock=64 style=self-synchronising" top=scrambler_self_synchronising
module scrambler_self_synchronising (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [63:0] data,
    output wire [63:0] scrambled
);
  reg [57:0] state;
  reg [121:0] history;
  integer n;
  // history[n + 58] is output bit n; the register holds the 58 bits before the first.
  always @* begin
    history = 122'd0;
    for (n = 0; n < 58; n = n + 1) history[57-n] = state[n];
    for (n = 0; n < 64; n = n + 1) history[n+58] = data[n] ^ history[n] ^ history[n+58-39];
  end
  assign scrambled = history[121:58];
  always @(posedge clock)
    if (reset) state <= {58{1'b1}};
    else if (enable) for (n = 0; n < 58; n = n + 1) state[n] <= history[121-n];
endmodule

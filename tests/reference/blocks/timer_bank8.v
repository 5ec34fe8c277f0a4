// Eight one-shot timers of 16 bits with a shared prescaler of 8 bits.
// twin: block=timer-bank settings="timers=8 bits=16 prescaler_bits=8" top=timer_bank8
module timer_bank8 (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [7:0] start,
    input wire [7:0] stop,
    input wire [15:0] load_value,
    output reg [7:0] running,
    output reg [7:0] expired
);
  reg [7:0] prescaler;
  reg tick;
  reg [15:0] count[0:7];
  integer i;
  always @(posedge clock)
    if (reset) begin
      prescaler <= 0;
      tick <= 0;
    end else begin
      if (enable) prescaler <= prescaler + 1;
      tick <= enable && prescaler == 8'hFF;
    end
  always @(posedge clock)
    for (i = 0; i < 8; i = i + 1)
      if (start[i]) count[i] <= load_value;
      else if (tick && running[i]) count[i] <= count[i] - 1;
  always @(posedge clock)
    if (reset) begin
      running <= 0;
      expired <= 0;
    end else
      for (i = 0; i < 8; i = i + 1)
        if (start[i]) begin
          running[i] <= 1;
          expired[i] <= 0;
        end else if (stop[i]) begin
          running[i] <= 0;
          expired[i] <= 0;
        end else if (tick && running[i] && count[i] == 1) begin
          running[i] <= 0;
          expired[i] <= 1;
        end
endmodule

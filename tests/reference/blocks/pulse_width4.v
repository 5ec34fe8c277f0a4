// Four channels of 8-bit pulse-width modulation with double-buffered duty values.
// twin: block=pulse-width settings="channels=4 bits=8" top=pulse_width4
module pulse_width4 (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire write,
    input wire [1:0] channel,
    input wire [7:0] duty,
    output reg [3:0] pwm,
    output reg period_start
);
  reg [7:0] count;
  reg [7:0] buffered[0:3];
  reg [7:0] active[0:3];
  wire period_end = enable && count == 8'hFF;
  integer i;
  always @(posedge clock)
    if (reset) begin
      count <= 0;
      pwm <= 0;
      period_start <= 0;
      for (i = 0; i < 4; i = i + 1) begin
        buffered[i] <= 0;
        active[i] <= 0;
      end
    end else begin
      period_start <= period_end;
      if (enable) count <= count + 1;
      for (i = 0; i < 4; i = i + 1) begin
        if (write && channel == i) buffered[i] <= duty;
        if (period_end) active[i] <= buffered[i];
        if (enable) pwm[i] <= count < active[i];
      end
    end
endmodule

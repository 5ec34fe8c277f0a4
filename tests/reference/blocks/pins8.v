// Eight general-purpose pins: synchroniser, 4-bit debouncing, change flags, output and direction registers.
// twin: block=pins settings="lines=8 debounce_bits=4" top=pins8
module pins8 (
    input wire clock,
    input wire reset,
    input wire tick,
    input wire clear_changed,
    input wire write_output,
    input wire write_direction,
    input wire [7:0] data,
    input wire [7:0] pin_in,
    output reg [7:0] pin_out,
    output reg [7:0] pin_enable,
    output reg [7:0] value,
    output reg [7:0] changed
);
  reg [7:0] first;
  reg [7:0] second;
  reg [3:0] count[0:7];
  integer i;
  always @(posedge clock) begin
    first  <= pin_in;
    second <= first;
    for (i = 0; i < 8; i = i + 1)
      if (reset || second[i] == value[i]) count[i] <= 0;
      else if (tick) count[i] <= count[i] + 1;
    if (reset) begin
      pin_out <= 0;
      pin_enable <= 0;
      value <= 0;
      changed <= 0;
    end else begin
      if (write_output) pin_out <= data;
      if (write_direction) pin_enable <= data;
      for (i = 0; i < 8; i = i + 1)
        if (tick && second[i] != value[i] && count[i] == 4'hF) begin
          value[i]   <= ~value[i];
          changed[i] <= 1;
        end else if (clear_changed) changed[i] <= 0;
    end
  end
endmodule

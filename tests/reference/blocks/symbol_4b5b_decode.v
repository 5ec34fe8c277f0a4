// 4b5b decoder with control and valid flags, registered.
// twin: block=symbol-code settings="code=4b5b direction=decode" top=symbol_4b5b_decode
module symbol_4b5b_decode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [4:0] symbol,
    output reg [3:0] data,
    output reg control,
    output reg valid
);
  reg [5:0] next;
  always @*
    case (symbol)
      5'b11110: next = 6'b10_0000;
      5'b01001: next = 6'b10_0001;
      5'b10100: next = 6'b10_0010;
      5'b10101: next = 6'b10_0011;
      5'b01010: next = 6'b10_0100;
      5'b01011: next = 6'b10_0101;
      5'b01110: next = 6'b10_0110;
      5'b01111: next = 6'b10_0111;
      5'b10010: next = 6'b10_1000;
      5'b10011: next = 6'b10_1001;
      5'b10110: next = 6'b10_1010;
      5'b10111: next = 6'b10_1011;
      5'b11010: next = 6'b10_1100;
      5'b11011: next = 6'b10_1101;
      5'b11100: next = 6'b10_1110;
      5'b11101: next = 6'b10_1111;
      5'b11000: next = 6'b11_0000;
      5'b10001: next = 6'b11_0001;
      5'b00110: next = 6'b11_0010;
      5'b00111: next = 6'b11_0011;
      5'b11001: next = 6'b11_0100;
      5'b01101: next = 6'b11_0101;
      default: next = 6'b00_0000;
    endcase
  always @(posedge clock)
    if (reset) {valid, control, data} <= 6'd0;
    else if (enable) {valid, control, data} <= next;
endmodule

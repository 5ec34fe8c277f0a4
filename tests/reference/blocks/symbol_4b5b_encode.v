// 4b5b encoder with control symbols, registered.
// twin: block=symbol-code settings="code=4b5b direction=encode" top=symbol_4b5b_encode
module symbol_4b5b_encode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [3:0] data,
    input wire control,
    output reg [4:0] symbol
);
  reg [4:0] next;
  always @*
    case ({control, data})
      5'h00: next = 5'b11110;
      5'h01: next = 5'b01001;
      5'h02: next = 5'b10100;
      5'h03: next = 5'b10101;
      5'h04: next = 5'b01010;
      5'h05: next = 5'b01011;
      5'h06: next = 5'b01110;
      5'h07: next = 5'b01111;
      5'h08: next = 5'b10010;
      5'h09: next = 5'b10011;
      5'h0a: next = 5'b10110;
      5'h0b: next = 5'b10111;
      5'h0c: next = 5'b11010;
      5'h0d: next = 5'b11011;
      5'h0e: next = 5'b11100;
      5'h0f: next = 5'b11101;
      5'h10: next = 5'b11000;
      5'h11: next = 5'b10001;
      5'h12: next = 5'b00110;
      5'h13: next = 5'b00111;
      5'h14: next = 5'b11001;
      5'h15: next = 5'b01101;
      default: next = 5'bxxxxx;
    endcase
  always @(posedge clock)
    if (reset) symbol <= 5'd0;
    else if (enable) symbol <= next;
endmodule

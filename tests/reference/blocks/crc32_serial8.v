// CRC-32, reflected, eight bits a clock, written as a loop over the bits.
// twin: block=crc settings="width=32 polynomial=0x04C11DB7 bits_per_clock=8" top=crc32_serial8
module crc32_serial8 (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [7:0] data,
    output wire [31:0] crc
);
  // Holds the complement, so that the output needs no inverters: 0 after a reset to all ones.
  reg [31:0] held;
  reg [31:0] next;
  integer i;
  assign crc = held;
  always @* begin
    next = ~held;
    for (i = 0; i < 8; i = i + 1)
      next = (next >> 1) ^ ((next[0] ^ data[i]) ? 32'hEDB88320 : 32'h0);
  end
  always @(posedge clock)
    if (reset) held <= 32'h0;
    else if (enable) held <= ~next;
endmodule

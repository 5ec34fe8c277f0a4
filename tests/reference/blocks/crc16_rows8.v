// CRC-16 with polynomial 0x1021, most significant bit first, eight bits a clock, one equation for each bit.
// twin: block=crc settings="width=16 polynomial=0x1021 reflected=false bits_per_clock=8 final=0 form=rows" top=crc16_rows8
module crc16_rows8 (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [7:0] data,
    output reg [15:0] crc
);
  wire [15:0] next;
  assign next[0] = crc[8] ^ crc[12] ^ data[0] ^ data[4];
  assign next[1] = crc[9] ^ crc[13] ^ data[1] ^ data[5];
  assign next[2] = crc[10] ^ crc[14] ^ data[2] ^ data[6];
  assign next[3] = crc[11] ^ crc[15] ^ data[3] ^ data[7];
  assign next[4] = crc[12] ^ data[4];
  assign next[5] = crc[8] ^ crc[12] ^ crc[13] ^ data[0] ^ data[4] ^ data[5];
  assign next[6] = crc[9] ^ crc[13] ^ crc[14] ^ data[1] ^ data[5] ^ data[6];
  assign next[7] = crc[10] ^ crc[14] ^ crc[15] ^ data[2] ^ data[6] ^ data[7];
  assign next[8] = crc[0] ^ crc[11] ^ crc[15] ^ data[3] ^ data[7];
  assign next[9] = crc[1] ^ crc[12] ^ data[4];
  assign next[10] = crc[2] ^ crc[13] ^ data[5];
  assign next[11] = crc[3] ^ crc[14] ^ data[6];
  assign next[12] = crc[4] ^ crc[8] ^ crc[12] ^ crc[15] ^ data[0] ^ data[4] ^ data[7];
  assign next[13] = crc[5] ^ crc[9] ^ crc[13] ^ data[1] ^ data[5];
  assign next[14] = crc[6] ^ crc[10] ^ crc[14] ^ data[2] ^ data[6];
  assign next[15] = crc[7] ^ crc[11] ^ crc[15] ^ data[3] ^ data[7];
  always @(posedge clock)
    if (reset) crc <= 16'hFFFF;
    else if (enable) crc <= next;
endmodule

// Queue of 64 bytes with a level and error flags; the memory is RAM.
// twin: block=buffer settings="words=64 bits=8" top=buffer64
module buffer64 (
    input wire clock,
    input wire reset,
    input wire write,
    input wire read,
    input wire [7:0] write_data,
    output reg [7:0] read_data,
    output reg read_valid,
    output reg [6:0] level,
    output wire full,
    output wire empty,
    output reg overflow,
    output reg underflow
);
  reg [7:0] words[0:63];
  reg [5:0] write_address;
  reg [5:0] read_address;
  assign full  = level == 64;
  assign empty = level == 0;
  wire puts = write && !full;
  wire gets = read && !empty;
  always @(posedge clock) begin
    if (puts) words[write_address] <= write_data;
    read_data <= words[read_address];
    if (reset) begin
      write_address <= 0;
      read_address <= 0;
      level <= 0;
      read_valid <= 0;
      overflow <= 0;
      underflow <= 0;
    end else begin
      read_valid <= gets;
      if (write && full) overflow <= 1;
      if (read && empty) underflow <= 1;
      if (puts) write_address <= write_address + 1;
      if (gets) read_address <= read_address + 1;
      if (puts && !gets) level <= level + 1;
      else if (gets && !puts) level <= level - 1;
    end
  end
endmodule

// Queue of 34 bytes that becomes visible and frees its room packet by packet.
// twin: block=buffer settings="words=34 bits=8 packets=true" top=buffer_packets34
module buffer_packets34 (
    input wire clock,
    input wire reset,
    input wire write,
    input wire read,
    input wire commit,
    input wire abandon,
    input wire release_read,
    input wire repeat_read,
    input wire [7:0] write_data,
    output reg [7:0] read_data,
    output reg read_valid,
    output wire full,
    output wire empty
);
  reg [7:0] words[0:33];
  reg [6:0] written, committed, reader, released;
  assign full  = written[5:0] == released[5:0] && written[6] != released[6];
  assign empty = reader == committed;
  wire puts = write && !full && !abandon;
  wire gets = read && !empty && !repeat_read;
  function [6:0] following(input [6:0] pointer);
    following = pointer[5:0] == 33 ? {~pointer[6], 6'd0} : {pointer[6], pointer[5:0] + 6'd1};
  endfunction
  always @(posedge clock) begin
    if (puts) words[written[5:0]] <= write_data;
    read_data <= words[reader[5:0]];
    if (reset) begin
      written <= 0;
      committed <= 0;
      reader <= 0;
      released <= 0;
      read_valid <= 0;
    end else begin
      read_valid <= gets;
      if (commit) committed <= written;
      if (release_read) released <= reader;
      if (abandon) written <= committed;
      else if (puts) written <= following(written);
      if (repeat_read) reader <= released;
      else if (gets) reader <= following(reader);
    end
  end
endmodule

// Sender for packets of five-bit symbols: preamble, one of seven start sets, offered symbols, end symbol.
// twin: block=framing settings="direction=encode preamble_bits=64 symbols=4 sets=7" top=framing_encode
module framing_encode (
    input wire clock,
    input wire reset,
    input wire bit_tick,
    input wire send,
    input wire [2:0] set,
    input wire [4:0] symbol,
    input wire symbol_valid,
    output reg line_bit,
    output reg line_active,
    output wire symbol_take,
    output reg busy,
    output reg done
);
  localparam [4:0] S1 = 5'b11000, S2 = 5'b10001, S3 = 5'b00110, R1 = 5'b00111, R2 = 5'b11001, EOP = 5'b01101;
  reg in_preamble, in_set, in_end;
  reg [5:0] preamble;
  reg [2:0] position;
  reg [2:0] index;
  reg [2:0] chosen;
  reg [4:0] shift;
  reg [4:0] from_table;

  always @*
    case ({index[1:0], chosen})
      {2'd0, 3'd0}, {2'd0, 3'd1}, {2'd0, 3'd2}, {2'd0, 3'd5}, {2'd0, 3'd6}: from_table = S1;
      {2'd0, 3'd3}, {2'd0, 3'd4}: from_table = R1;
      {2'd1, 3'd0}, {2'd1, 3'd1}, {2'd1, 3'd4}: from_table = S1;
      {2'd1, 3'd2}: from_table = S3;
      {2'd1, 3'd3}: from_table = R1;
      {2'd1, 3'd5}, {2'd1, 3'd6}: from_table = R2;
      {2'd2, 3'd0}, {2'd2, 3'd2}: from_table = S1;
      {2'd2, 3'd1}, {2'd2, 3'd6}: from_table = S3;
      {2'd2, 3'd3}, {2'd2, 3'd4}: from_table = R1;
      {2'd2, 3'd5}: from_table = R2;
      {2'd3, 3'd0}, {2'd3, 3'd6}: from_table = S2;
      {2'd3, 3'd1}, {2'd3, 3'd2}, {2'd3, 3'd4}, {2'd3, 3'd5}: from_table = S3;
      {2'd3, 3'd3}: from_table = R2;
      default: from_table = 5'bx;
    endcase

  wire begins = send & ~busy;
  wire preamble_done = bit_tick & in_preamble & preamble == 63;
  wire symbol_ticks = bit_tick & busy & ~in_preamble;
  wire symbol_done = symbol_ticks & position == 4;
  wire set_sent = index == 4;
  wire loads_set = preamble_done | (symbol_done & in_set & ~set_sent);
  wire set_done = symbol_done & in_set & set_sent;
  wire finishes = symbol_done & (in_end | (set_done & (chosen == 3 || chosen == 4)));
  wire takes_next = symbol_done & ~finishes & (~in_set | set_sent);
  assign symbol_take = takes_next & symbol_valid;

  always @(posedge clock) begin
    if (begins) begin
      chosen <= set;
      preamble <= 0;
      index <= 0;
      position <= 0;
    end else begin
      if (bit_tick & in_preamble) preamble <= preamble + 1;
      if (loads_set) index <= index + 1;
      if (symbol_done) position <= 0;
      else if (symbol_ticks) position <= position + 1;
    end
    if (loads_set) shift <= from_table;
    else if (takes_next) shift <= symbol_valid ? symbol : EOP;
    else if (symbol_ticks) shift <= shift >> 1;
    if (bit_tick) line_bit <= in_preamble ? preamble[0] : shift[0];
    if (reset) begin
      busy <= 0;
      in_preamble <= 0;
      in_set <= 0;
      in_end <= 0;
      line_active <= 0;
      done <= 0;
    end else begin
      done <= finishes;
      if (bit_tick) line_active <= busy;
      if (begins) busy <= 1;
      else if (finishes) busy <= 0;
      if (begins) in_preamble <= 1;
      else if (preamble_done) in_preamble <= 0;
      if (preamble_done) in_set <= 1;
      else if (set_done) in_set <= 0;
      if (begins) in_end <= 0;
      else if (takes_next) in_end <= ~symbol_valid;
    end
  end
endmodule

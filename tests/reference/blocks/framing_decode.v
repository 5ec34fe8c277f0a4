// Receiver for packets of five-bit symbols: preamble lock, seven start sets of four symbols with one wrong
// allowed, symbol strobes, end symbol.
// twin: block=framing settings="direction=decode preamble_bits=64 symbols=4 sets=7" top=framing_decode
module framing_decode (
    input wire clock,
    input wire reset,
    input wire bit_in,
    input wire bit_valid,
    input wire line_idle,
    output reg start,
    output reg [2:0] set,
    output reg symbol_valid,
    output reg [4:0] symbol,
    output reg end_seen,
    output reg error,
    output reg receiving
);
  localparam [4:0] S1 = 5'b11000, S2 = 5'b10001, S3 = 5'b00110, R1 = 5'b00111, R2 = 5'b11001, EOP = 5'b01101;
  reg [19:0] window;
  reg fresh, locked;
  reg [3:0] alternating;
  reg [4:0] searched;
  reg [2:0] position;

  function match(input [19:0] seen, input [4:0] a, input [4:0] b, input [4:0] c, input [4:0] d);
    reg [3:0] hit;
    begin
      hit = {seen[19:15] == d, seen[14:10] == c, seen[9:5] == b, seen[4:0] == a};
      match = (&hit) | (hit == 4'b0111) | (hit == 4'b1011) | (hit == 4'b1101) | (hit == 4'b1110);
    end
  endfunction

  reg any;
  reg [2:0] which;
  always @* begin
    any = 1;
    which = 0;
    if (match(window, S1, S1, S1, S2)) which = 0;
    else if (match(window, S1, S1, S3, S3)) which = 1;
    else if (match(window, S1, S3, S1, S3)) which = 2;
    else if (match(window, R1, R1, R1, R2)) which = 3;
    else if (match(window, R1, S1, R1, S3)) which = 4;
    else if (match(window, S1, R2, R2, S3)) which = 5;
    else if (match(window, S1, R2, S3, S2)) which = 6;
    else any = 0;
  end

  wire alternates = bit_in ^ window[19];
  wire searching = locked & ~receiving;
  wire found = searching & fresh & any;
  wire bare = found & (which == 3 || which == 4);
  wire symbol_done = receiving & fresh & position == 4;
  wire ends = symbol_done & window[19:15] == EOP;
  wire gives_up = &searched;

  always @(posedge clock) begin
    if (bit_valid) window <= {bit_in, window[19:1]};
    if (found) set <= which;
    if (symbol_done) symbol <= window[19:15];
    if (reset) begin
      fresh <= 0;
      locked <= 0;
      alternating <= 0;
      searched <= 0;
      position <= 0;
      receiving <= 0;
      start <= 0;
      symbol_valid <= 0;
      end_seen <= 0;
      error <= 0;
    end else begin
      fresh <= bit_valid;
      start <= found;
      symbol_valid <= symbol_done & ~ends;
      end_seen <= ends;
      error <= receiving & line_idle & ~ends;
      if (bit_valid & ~locked) alternating <= alternates ? alternating + 1 : 0;
      if (~searching) searched <= 0;
      else if (bit_valid & (searched != 0 | ~alternates)) searched <= searched + 1;
      if (found | symbol_done) position <= 0;
      else if (receiving & fresh) position <= position + 1;
      if (ends | bare | gives_up | line_idle) locked <= 0;
      else if (bit_valid & ~locked & alternates & (&alternating)) locked <= 1;
      if (ends | bare | line_idle) receiving <= 0;
      else if (found) receiving <= 1;
    end
  end
endmodule

// 8b10b encoder with running disparity: part tables for disparity minus, complemented where it is plus.
// symbol[9:4] is abcdei, symbol[3:0] is fghj.
// twin: block=symbol-code settings="code=8b10b direction=encode" top=symbol_8b10b_encode
module symbol_8b10b_encode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [7:0] data,
    input wire control,
    output reg [9:0] symbol,
    output reg disparity
);
  wire [4:0] x = data[4:0];
  wire [2:0] y = data[7:5];
  reg [5:0] six;
  reg [3:0] four;
  reg middle;
  reg six_unbalanced, four_unbalanced;
  reg [5:0] six_sent;
  reg [3:0] four_sent;
  reg alternate;
  always @* begin
    case (x)
      5'd0: {six_unbalanced, six} = 7'b1_100111;
      5'd1: {six_unbalanced, six} = 7'b1_011101;
      5'd2: {six_unbalanced, six} = 7'b1_101101;
      5'd3: {six_unbalanced, six} = 7'b0_110001;
      5'd4: {six_unbalanced, six} = 7'b1_110101;
      5'd5: {six_unbalanced, six} = 7'b0_101001;
      5'd6: {six_unbalanced, six} = 7'b0_011001;
      5'd7: {six_unbalanced, six} = 7'b0_111000;
      5'd8: {six_unbalanced, six} = 7'b1_111001;
      5'd9: {six_unbalanced, six} = 7'b0_100101;
      5'd10: {six_unbalanced, six} = 7'b0_010101;
      5'd11: {six_unbalanced, six} = 7'b0_110100;
      5'd12: {six_unbalanced, six} = 7'b0_001101;
      5'd13: {six_unbalanced, six} = 7'b0_101100;
      5'd14: {six_unbalanced, six} = 7'b0_011100;
      5'd15: {six_unbalanced, six} = 7'b1_010111;
      5'd16: {six_unbalanced, six} = 7'b1_011011;
      5'd17: {six_unbalanced, six} = 7'b0_100011;
      5'd18: {six_unbalanced, six} = 7'b0_010011;
      5'd19: {six_unbalanced, six} = 7'b0_110010;
      5'd20: {six_unbalanced, six} = 7'b0_001011;
      5'd21: {six_unbalanced, six} = 7'b0_101010;
      5'd22: {six_unbalanced, six} = 7'b0_011010;
      5'd23: {six_unbalanced, six} = 7'b1_111010;
      5'd24: {six_unbalanced, six} = 7'b1_110011;
      5'd25: {six_unbalanced, six} = 7'b0_100110;
      5'd26: {six_unbalanced, six} = 7'b0_010110;
      5'd27: {six_unbalanced, six} = 7'b1_110110;
      5'd28: {six_unbalanced, six} = 7'b0_001110;
      5'd29: {six_unbalanced, six} = 7'b1_101110;
      5'd30: {six_unbalanced, six} = 7'b1_011110;
      5'd31: {six_unbalanced, six} = 7'b1_101011;
    endcase
    if (control && x == 5'd28) {six_unbalanced, six} = 7'b1_001111;
    six_sent = (disparity && (six_unbalanced || x == 5'd7)) ? ~six : six;
    middle = disparity ^ six_unbalanced;
    alternate = control || (middle ? (x == 5'd11 || x == 5'd13 || x == 5'd14)
                                   : (x == 5'd17 || x == 5'd18 || x == 5'd20));
    case (y)
      3'd0: four = 4'b1011;
      3'd1: four = control ? 4'b0110 : 4'b1001;
      3'd2: four = control ? 4'b1010 : 4'b0101;
      3'd3: four = 4'b1100;
      3'd4: four = 4'b1101;
      3'd5: four = control ? 4'b0101 : 4'b1010;
      3'd6: four = control ? 4'b1001 : 4'b0110;
      3'd7: four = alternate ? 4'b0111 : 4'b1110;
    endcase
    four_unbalanced = y == 3'd0 || y == 3'd4 || y == 3'd7;
    four_sent = (middle && (four_unbalanced || y == 3'd3 || control)) ? ~four : four;
  end
  always @(posedge clock)
    if (reset) begin
      symbol <= 10'd0;
      disparity <= 1'b0;
    end else if (enable) begin
      symbol <= {six_sent, four_sent};
      disparity <= middle ^ four_unbalanced;
    end
endmodule

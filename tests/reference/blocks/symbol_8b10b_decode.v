// 8b10b decoder: code errors (symbol of neither column), disparity errors (symbol of the other column).
// symbol[9:4] is abcdei, symbol[3:0] is fghj.
// twin: block=symbol-code settings="code=8b10b direction=decode" top=symbol_8b10b_decode
module symbol_8b10b_decode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire [9:0] symbol,
    output reg [7:0] data,
    output reg control,
    output reg code_error,
    output reg disparity_error,
    output reg disparity
);
  wire [5:0] six = symbol[9:4];
  wire [3:0] four = symbol[3:0];
  wire [2:0] six_ones = six[5] + six[4] + six[3] + six[2] + six[1] + six[0];
  wire [2:0] four_ones = four[3] + four[2] + four[1] + four[0];
  wire k28_minus = six == 6'b001111;
  wire k28_plus = six == 6'b110000;
  wire k28 = k28_minus || k28_plus;
  wire six_starts_minus = six_ones > 3 || six == 6'b111000;
  wire six_starts_plus = six_ones < 3 || six == 6'b000111;
  wire six_ends_plus = six_ones > 3 || six == 6'b000111;
  wire six_ends_minus = six_ones < 3 || six == 6'b111000;
  wire four_starts_minus = four_ones > 2 || four == 4'b1100;
  wire four_starts_plus = four_ones < 2 || four == 4'b0011;
  wire four_ends_plus = four_ones > 2 || four == 4'b0011;
  wire four_ends_minus = four_ones < 2 || four == 4'b1100;
  wire middle = six_ends_plus || (disparity && !six_ends_minus);
  wire bad_six = six_ones > 4 || six_ones < 2 || six == 6'b111100 || six == 6'b000011;
  wire bad_four = four == 4'b0000 || four == 4'b1111;
  wire conflict = (six_ends_plus && four_starts_minus) || (six_ends_minus && four_starts_plus);
  wire k_minus = six == 6'b111010 || six == 6'b110110 || six == 6'b101110 || six == 6'b011110;
  wire k_plus = six == 6'b000101 || six == 6'b001001 || six == 6'b010001 || six == 6'b100001;
  wire takes_0111 = six == 6'b100011 || six == 6'b010011 || six == 6'b001011 || k_plus || k28_plus;
  wire takes_1000 = six == 6'b110100 || six == 6'b101100 || six == 6'b011100 || k_minus || k28_minus;
  wire bad_seven = (four == 4'b0111 && !takes_0111) || (four == 4'b1000 && !takes_1000) ||
                   (four == 4'b1110 && (six[1:0] == 2'b11 || k28)) ||
                   (four == 4'b0001 && (six[1:0] == 2'b00 || k28));
  wire error = bad_six || bad_four || conflict || bad_seven;
  wire needs_minus = six_starts_minus || (!six_starts_plus && four_starts_minus);
  wire needs_plus = six_starts_plus || (!six_starts_minus && four_starts_plus);
  reg [4:0] x;
  reg [2:0] y;
  always @* begin
    case (six)
      6'b100111, 6'b011000: x = 5'd0;
      6'b011101, 6'b100010: x = 5'd1;
      6'b101101, 6'b010010: x = 5'd2;
      6'b110001: x = 5'd3;
      6'b110101, 6'b001010: x = 5'd4;
      6'b101001: x = 5'd5;
      6'b011001: x = 5'd6;
      6'b111000, 6'b000111: x = 5'd7;
      6'b111001, 6'b000110: x = 5'd8;
      6'b100101: x = 5'd9;
      6'b010101: x = 5'd10;
      6'b110100: x = 5'd11;
      6'b001101: x = 5'd12;
      6'b101100: x = 5'd13;
      6'b011100: x = 5'd14;
      6'b010111, 6'b101000: x = 5'd15;
      6'b011011, 6'b100100: x = 5'd16;
      6'b100011: x = 5'd17;
      6'b010011: x = 5'd18;
      6'b110010: x = 5'd19;
      6'b001011: x = 5'd20;
      6'b101010: x = 5'd21;
      6'b011010: x = 5'd22;
      6'b111010, 6'b000101: x = 5'd23;
      6'b110011, 6'b001100: x = 5'd24;
      6'b100110: x = 5'd25;
      6'b010110: x = 5'd26;
      6'b110110, 6'b001001: x = 5'd27;
      6'b001110, 6'b001111, 6'b110000: x = 5'd28;
      6'b101110, 6'b010001: x = 5'd29;
      6'b011110, 6'b100001: x = 5'd30;
      6'b101011, 6'b010100: x = 5'd31;
      default: x = 5'd0;
    endcase
    case (k28_plus ? ~four : four)
      4'b1011, 4'b0100: y = 3'd0;
      4'b1001: y = 3'd1;
      4'b0101: y = 3'd2;
      4'b1100, 4'b0011: y = 3'd3;
      4'b1101, 4'b0010: y = 3'd4;
      4'b1010: y = 3'd5;
      4'b0110: y = 3'd6;
      4'b1110, 4'b0001, 4'b0111, 4'b1000: y = 3'd7;
      default: y = 3'd0;
    endcase
  end
  always @(posedge clock)
    if (reset) begin
      data <= 8'd0;
      control <= 1'b0;
      code_error <= 1'b0;
      disparity_error <= 1'b0;
      disparity <= 1'b0;
    end else if (enable) begin
      data <= {y, x};
      control <= k28 || (k_minus && four == 4'b1000) || (k_plus && four == 4'b0111);
      code_error <= error;
      disparity_error <= !error && (disparity ? needs_minus : needs_plus);
      disparity <= four_ends_plus || (middle && !four_ends_minus);
    end
endmodule

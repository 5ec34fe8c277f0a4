// SPI target, modes 0 and 3, sampled with the system clock.
// twin: block=host-interface settings="bus=spi role=target" top=spi_target
module spi_target(input clk, input reset, input sck, input select_n, input mosi, input [7:0] transmit,
                  output reg miso, output miso_enable, output reg [7:0] received,
                  output reg received_valid, output reg transmit_taken);
  reg [2:0] sck_s, select_s;
  reg [1:0] mosi_s;
  reg [2:0] bit_count;
  reg [7:0] shift;
  wire selected = !select_s[2];
  wire begins = select_s[2] && !select_s[1];
  wire rises = selected && sck_s[1] && !sck_s[2];
  wire falls = selected && !sck_s[1] && sck_s[2];
  assign miso_enable = selected;
  always @(posedge clk) begin
    sck_s <= {sck_s[1:0], sck};
    select_s <= {select_s[1:0], select_n};
    mosi_s <= {mosi_s[0], mosi};
    received_valid <= 0;
    transmit_taken <= 0;
    if (rises) begin
      bit_count <= bit_count + 1;
      shift <= {shift[6:0], mosi_s[1]};
    end
    if (falls) miso <= shift[7];
    if (rises && bit_count == 7) begin
      received <= {shift[6:0], mosi_s[1]};
      received_valid <= 1;
      shift <= transmit;
      transmit_taken <= 1;
    end
    if (begins) begin
      shift <= transmit;
      miso <= transmit[7];
      transmit_taken <= 1;
    end
    if (select_s[1]) bit_count <= 0;
    if (reset) begin
      sck_s <= 0; select_s <= 7; mosi_s <= 0; bit_count <= 0; miso <= 0; received <= 0;
      received_valid <= 0; transmit_taken <= 0;
    end
  end
endmodule

// SPI controller, bytes, polarity and phase as inputs, divider of 8 bits.
// twin: block=host-interface settings="bus=spi role=controller" top=spi_controller
module spi_controller(input clk, input reset, input start, input last, input [7:0] transmit,
                      input [7:0] divider, input polarity, input phase, input miso, output reg sck,
                      output reg mosi, output reg select_n, output reg busy, output reg done,
                      output [7:0] received);
  reg [7:0] timer, shift;
  reg [4:0] edges;
  reg is_last;
  assign received = shift;
  always @(posedge clk) begin
    done <= 0;
    if (!busy) begin
      sck <= polarity;
      if (start) begin
        busy <= 1;
        timer <= divider;
        edges <= 0;
        shift <= transmit;
        mosi <= transmit[7];
        is_last <= last;
        select_n <= 0;
      end
    end else if (timer != 0) timer <= timer - 1;
    else begin
      timer <= divider;
      if (edges[4]) begin
        busy <= 0;
        done <= 1;
        if (is_last) select_n <= 1;
      end else begin
        sck <= !sck;
        edges <= edges + 1;
        if (edges[0] == phase) shift <= {shift[6:0], miso};
        else mosi <= shift[7];
      end
    end
    if (reset) begin
      busy <= 0; done <= 0; sck <= 0; mosi <= 0; select_n <= 1; edges <= 0; is_last <= 0;
    end
  end
endmodule

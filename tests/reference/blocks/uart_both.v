// UART, 8 data bits, 16 times oversampling, run-time divider of 16 bits, both directions.
// twin: block=host-interface settings="bus=uart direction=both" top=uart_both
module uart_both(input clk, input reset, input [15:0] divider, input [7:0] transmit, input transmit_valid,
                 output transmit_ready, output txd, input rxd, input received_take,
                 output reg [7:0] received, output reg received_valid, output reg overrun,
                 output reg framing_error);
  reg [15:0] prescaler;
  reg tick;
  always @(posedge clk) begin
    prescaler <= prescaler == 0 ? divider : prescaler - 1;
    tick <= prescaler == 0;
    if (reset) begin prescaler <= 0; tick <= 0; end
  end

  reg sending;
  reg [3:0] send_phase, send_bit;
  reg [8:0] send_shift;
  assign txd = send_shift[0];
  assign transmit_ready = !sending;
  always @(posedge clk) begin
    if (tick) send_phase <= send_phase + 1;
    if (!sending) begin
      if (transmit_valid) begin
        sending <= 1;
        send_phase <= 0;
        send_bit <= 0;
        send_shift <= {transmit, 1'b0};
      end
    end else if (tick && send_phase == 15) begin
      send_shift <= {1'b1, send_shift[8:1]};
      send_bit <= send_bit + 1;
      if (send_bit == 9) sending <= 0;
    end
    if (reset) begin sending <= 0; send_phase <= 0; send_bit <= 0; send_shift <= 9'h1FF; end
  end

  reg rxd_meta, rxd_s, receiving, in_start;
  reg [3:0] phase, bit_count;
  reg [7:0] shift;
  always @(posedge clk) begin
    rxd_meta <= rxd;
    rxd_s <= rxd_meta;
    if (received_take) begin received_valid <= 0; overrun <= 0; end
    if (tick) begin
      if (!receiving) begin
        if (!rxd_s) begin receiving <= 1; in_start <= 1; phase <= 0; bit_count <= 0; end
      end else begin
        phase <= phase + 1;
        if (in_start) begin
          if (phase == 6) begin
            in_start <= 0;
            phase <= 0;
            if (rxd_s) receiving <= 0;
          end
        end else if (phase == 15) begin
          bit_count <= bit_count + 1;
          if (!bit_count[3]) shift <= {rxd_s, shift[7:1]};
          else begin
            receiving <= 0;
            framing_error <= !rxd_s;
            if (rxd_s) begin
              received <= shift;
              received_valid <= 1;
              if (received_valid && !received_take) overrun <= 1;
            end
          end
        end
      end
    end
    if (reset) begin
      rxd_meta <= 1; rxd_s <= 1; receiving <= 0; in_start <= 0; phase <= 0; bit_count <= 0;
      received <= 0; received_valid <= 0; overrun <= 0; framing_error <= 0;
    end
  end
endmodule

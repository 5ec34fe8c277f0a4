// Zero insertion after five ones, one bit at each enable, stalls its source for the inserted bit.
// twin: block=bit-stuffing settings="run=5 direction=encode" top=bit_stuffing_encode
module bit_stuffing_encode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire data,
    input wire data_valid,
    input wire raw,
    output reg stuffed,
    output reg stuffed_valid,
    output wire ready
);
  reg [2:0] ones;
  assign ready = ones != 3'd5;
  always @(posedge clock) begin
    stuffed_valid <= 1'b0;
    if (reset) begin
      ones <= 3'd0;
      stuffed <= 1'b0;
    end else if (enable) begin
      if (!ready) begin
        stuffed <= 1'b0;
        stuffed_valid <= 1'b1;
        ones <= 3'd0;
      end else if (data_valid) begin
        stuffed <= data;
        stuffed_valid <= 1'b1;
        ones <= (data && !raw) ? ones + 3'd1 : 3'd0;
      end else ones <= 3'd0;
    end
  end
endmodule

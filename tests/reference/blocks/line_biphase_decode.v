// Biphase-mark receiver, 8 samples a bit: synchroniser, majority filter, interval timer, cell classification.
// twin: block=line-code settings="code=biphase-mark direction=decode oversampling=8" top=line_biphase_decode
module line_biphase_decode (
    input wire clock,
    input wire reset,
    input wire enable,
    input wire line,
    output reg data,
    output reg data_valid,
    output reg violation,
    output reg carrier
);
  reg [3:0] samples;
  reg level, previous;
  reg [4:0] timer;
  reg half_seen;
  wire edge_found = level != previous;
  wire silent = timer == 5'd31;
  wire whole = timer >= 5'd5;
  wire too_long = timer >= 5'd12;
  always @(posedge clock) begin
    data_valid <= 1'b0;
    violation <= 1'b0;
    if (reset) begin
      samples <= 4'd0;
      level <= 1'b0;
      previous <= 1'b0;
      timer <= 5'd0;
      half_seen <= 1'b0;
      carrier <= 1'b0;
      data <= 1'b0;
    end else if (enable) begin
      samples <= {samples[2:0], line};
      level <= (samples[1] & samples[2]) | (samples[1] & samples[3]) | (samples[2] & samples[3]);
      previous <= level;
      if (edge_found) timer <= 5'd0;
      else if (!silent) timer <= timer + 5'd1;
      if (edge_found) carrier <= 1'b1;
      else if (silent) carrier <= 1'b0;
      if (edge_found) begin
        half_seen <= 1'b0;
        if (carrier) begin
          if (!whole) begin
            half_seen <= !half_seen;
            if (half_seen) begin
              data <= 1'b1;
              data_valid <= 1'b1;
            end
          end else begin
            violation <= half_seen || too_long;
            if (!too_long) begin
              data <= 1'b0;
              data_valid <= 1'b1;
            end
          end
        end
      end
    end
  end
endmodule

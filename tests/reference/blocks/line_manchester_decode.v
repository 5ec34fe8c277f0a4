// Manchester receiver, 8 samples a bit, locked to mid-bit edges.
// twin: block=line-code settings="code=manchester direction=decode oversampling=8" top=line_manchester_decode
module line_manchester_decode (
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
  reg first;
  wire edge_found = level != previous;
  wire silent = timer == 5'd31;
  wire middle = edge_found && (timer >= 5'd5 || first || !carrier);
  wire too_long = timer >= 5'd10;
  always @(posedge clock) begin
    data_valid <= 1'b0;
    violation <= 1'b0;
    if (reset) begin
      samples <= 4'd0;
      level <= 1'b0;
      previous <= 1'b0;
      timer <= 5'd0;
      first <= 1'b0;
      carrier <= 1'b0;
      data <= 1'b0;
    end else if (enable) begin
      samples <= {samples[2:0], line};
      level <= (samples[1] & samples[2]) | (samples[1] & samples[3]) | (samples[2] & samples[3]);
      previous <= level;
      if (middle) timer <= 5'd0;
      else if (!silent) timer <= timer + 5'd1;
      if (edge_found) begin
        carrier <= 1'b1;
        first <= !carrier;
      end else if (silent) carrier <= 1'b0;
      if (middle && carrier) begin
        violation <= too_long;
        if (!too_long) begin
          data <= level;
          data_valid <= 1'b1;
        end
      end
    end
  end
endmodule

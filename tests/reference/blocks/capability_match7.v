// Best of offered power objects: one object a strobe, serial multiplication of voltage and amount.
// twin: block=capability-match settings="objects=7 bits=32" top=capability_match7
module capability_match7(input clk, input reset, input start, input object_valid, input [31:0] object,
                         input [9:0] minimum_voltage, input [9:0] maximum_voltage,
                         input [9:0] wanted_current, input [9:0] wanted_power,
                         output reg [2:0] best_index, output reg [19:0] best_power,
                         output reg [9:0] best_amount, output busy, output complete);
  reg [2:0] index;
  reg [3:0] step;
  reg [19:0] product;
  reg [9:0] factor, amount;
  reg multiplying, comparing;
  wire [1:0] kind = object[31:30];
  wire [9:0] lowest = object[19:10];
  wire [9:0] highest = kind == 0 ? lowest : object[29:20];
  wire [9:0] limit = kind == 1 ? wanted_power : wanted_current;
  wire fits = kind != 3 && lowest >= minimum_voltage && highest <= maximum_voltage;
  wire [10:0] sum = product[19:10] + (product[0] ? factor : 10'd0);
  assign busy = multiplying | comparing;
  assign complete = index == 7 && !busy;
  always @(posedge clk) begin
    comparing <= 0;
    if (object_valid && !busy && index != 7) begin
      index <= index + 1;
      if (fits) begin
        factor <= kind == 1 ? 10'd500 : lowest;
        amount <= object[9:0] < limit ? object[9:0] : limit;
        product <= {10'd0, object[9:0] < limit ? object[9:0] : limit};
        multiplying <= 1;
        step <= 0;
      end
    end
    if (multiplying) begin
      product <= {sum, product[9:1]};
      step <= step + 1;
      if (step == 9) begin
        multiplying <= 0;
        comparing <= 1;
      end
    end
    if (comparing && product > best_power) begin
      best_power <= product;
      best_index <= index;
      best_amount <= amount;
    end
    if (reset || start) begin
      index <= 0;
      step <= 0;
      multiplying <= 0;
      comparing <= 0;
      best_index <= 0;
      best_power <= 0;
      best_amount <= 0;
    end
  end
endmodule

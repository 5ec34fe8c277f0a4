// Sequential 32-bit soft processor; program, data and register memories are outside, as RAM is in a device.
// twin: block=soft-processor settings="bits=32 style=sequential program_bytes=4096 data_bytes=1024" top=soft_sequential32
module soft_sequential32(input clk, input reset, input event_in, input [7:0] port_in,
                         output [23:0] code_address_out, input [31:0] fetched,
                         output [4:0] read_a, output [4:0] read_b, input [31:0] a, input [31:0] b,
                         output file_write, output [4:0] file_address, output [31:0] file_data,
                         output [31:0] data_read_address, input [31:0] data_word,
                         output [3:0] data_write, output [31:0] data_write_address, output [31:0] data_out,
                         output [7:0] port_address, output port_write, output port_read,
                         output [7:0] port_out);
  reg fetch, decode, execute, write_back;
  reg [23:0] code_address, saved_address;
  reg [31:0] word, result, counter;
  reg [4:0] count;
  reg pending, asleep, allowed;

  assign code_address_out = code_address;
  assign read_a = fetched[21:17];
  assign read_b = fetched[31] ? fetched[26:22] : fetched[4:0];

  wire [4:0] op = word[31:27];
  wire [2:0] f = op[2:0];
  wire [4:0] rd = word[26:22];
  wire [31:0] immediate = {{15{word[16]}}, word[16:0]};
  wire is_alu = !op[4];
  wire is_shift = is_alu && f == 7;
  wire is_load = op[4:3] == 2 && !f[2];
  wire is_store = op[4:3] == 2 && f[2] && f != 7;
  wire is_special = op == 23;
  wire is_branch = op[4:3] == 3 && f < 6;
  wire is_call = op == 30;
  wire is_jump = op == 31;
  wire [2:0] special = word[19:17];
  wire is_upper = is_special && special == 0;
  wire is_sleep = is_special && special == 1;
  wire is_allow = is_special && special == 3;
  wire is_forbid = is_special && special == 4;
  wire is_return = is_special && special == 5;
  wire is_counter = is_special && special == 6;
  wire writes = is_alu || is_load || is_call || is_jump || is_upper || is_counter;
  wire needs_write = writes || is_store;

  // Arithmetic with one adder.
  wire [31:0] second = (op[4:3] == 1 || op[4:3] == 2 || is_jump) ? immediate : b;
  wire subtracts = (is_alu && (f == 1 || f == 5 || f == 6)) || is_branch;
  wire [32:0] sum = {1'b0, a} + {1'b0, second ^ {32{subtracts}}} + subtracts;
  wire is_equal = a == second;
  wire less_unsigned = !sum[32];
  wire less_signed = (a[31] ^ second[31]) ? a[31] : less_unsigned;
  reg [31:0] value;
  always @*
    if (is_counter) value = counter;
    else if (is_upper) value = {word[16:0], 15'd0};
    else if (is_call || is_jump) value = {8'd0, code_address};
    else if (!is_alu) value = sum[31:0];
    else case (f)
      0, 1: value = sum[31:0];
      2: value = a & second;
      3: value = a | second;
      4: value = a ^ second;
      5: value = {31'd0, less_signed};
      6: value = {31'd0, less_unsigned};
      7: value = a;
    endcase
  reg condition;
  always @*
    case (f[2:1])
      0: condition = is_equal ^ f[0];
      1: condition = less_unsigned ^ f[0];
      default: condition = less_signed ^ f[0];
    endcase

  // Result and shifts.
  wire shifting = count != 0;
  wire ends = write_back && !shifting;
  always @(posedge clk) begin
    if (decode) word <= fetched;
    counter <= reset ? 0 : counter + 1;
    if (execute) result <= value;
    else if (write_back && shifting)
      result <= word[16:15] == 0 ? {result[30:0], 1'b0} : {word[16] & result[31], result[31:1]};
    if (reset) count <= 0;
    else if (execute) count <= is_shift ? second[4:0] : 0;
    else if (write_back && shifting) count <= count - 1;
  end

  // Loads and stores.
  wire is_port = result[31];
  wire [15:0] half = ((f[0] | f[1]) & result[1]) ? data_word[31:16] : data_word[15:0];
  wire [7:0] byte_value = (f[1] & result[0]) ? half[15:8] : half[7:0];
  wire fill = f[1] & f[0] & byte_value[7];
  wire [31:0] aligned = {f[1:0] == 0 ? data_word[31:16] : {16{fill}},
                         f[1] ? {8{fill}} : half[15:8], byte_value};
  wire stores = write_back && is_store && !is_port;
  assign data_read_address = sum[31:0];
  assign data_write_address = result;
  assign data_out = f[1] ? {4{b[7:0]}} : f[0] ? {2{b[15:0]}} : b;
  assign data_write = {4{stores}} & (f[1] ? 4'b0001 << result[1:0] : f[0] ? 4'b0011 << {result[1], 1'b0} : 4'b1111);
  assign file_write = ends && writes && rd != 0;
  assign file_address = rd;
  assign file_data = !is_load ? result : is_port ? {24'd0, port_in} : aligned;
  assign port_address = result[7:0];
  assign port_write = write_back && is_store && is_port;
  assign port_read = write_back && is_load && is_port;
  assign port_out = b[7:0];

  // Events, code address, stages.
  wire interrupts = fetch && pending && allowed;
  wire wakes = fetch && pending && asleep;
  wire leaves = fetch && (pending || !asleep) && !interrupts;
  wire [23:0] offset = is_call ? {{2{word[21]}}, word[21:0]} : {{7{word[16]}}, word[16:0]};
  always @(posedge clk) begin
    pending <= event_in || (pending && !interrupts && !wakes);
    if (execute && is_sleep) asleep <= 1;
    else if (wakes || interrupts) asleep <= 0;
    if (execute && (is_allow || is_return)) allowed <= 1;
    else if (interrupts || (execute && is_forbid)) allowed <= 0;
    if (interrupts) begin
      saved_address <= code_address;
      code_address <= 1;
    end else if (decode) code_address <= code_address + 1;
    else if (execute) begin
      if (is_return) code_address <= saved_address;
      else if (is_jump) code_address <= sum[23:0];
      else if (is_call || (is_branch && condition)) code_address <= code_address + offset;
    end
    fetch <= (fetch && !leaves) || (execute && !needs_write) || ends;
    decode <= leaves;
    execute <= decode;
    write_back <= (execute && needs_write) || (write_back && shifting);
    if (reset) begin
      pending <= 0; asleep <= 0; allowed <= 0; code_address <= 0;
      fetch <= 1; decode <= 0; execute <= 0; write_back <= 0;
    end
  end
endmodule

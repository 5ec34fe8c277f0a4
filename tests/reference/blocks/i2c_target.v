// I2C target with glitch filters, register address and auto-increment.
// twin: block=host-interface settings="bus=i2c role=target" top=i2c_target
// State machine as a case, data registers with their enables said outright. Written as one nested process
// instead, the same function takes up to twice the LUTs, because the enables are no longer found.
module i2c_target(input clk, input reset, input scl, input sda, input [6:0] device_address,
                  input [7:0] read_data, output [7:0] address, output reg write, output [7:0] write_data,
                  output reg read, output reg sda_low, output selected);
  localparam IDLE = 0, ADDRESS = 1, POINTER = 2, WRITE = 3, READ = 4;
  reg [3:0] scl_s, sda_s;
  reg scl_f, sda_f, scl_p, sda_p, count_up;
  reg [2:0] state;
  reg [3:0] count;
  reg [7:0] shift, pointer;
  wire rises = scl_f && !scl_p;
  wire falls = !scl_f && scl_p;
  wire start = scl_f && scl_p && sda_p && !sda_f;
  wire stop = scl_f && scl_p && !sda_p && sda_f;
  wire receiving = state == ADDRESS || state == POINTER || state == WRITE;
  wire byte_ends = falls && count == 8;
  wire acknowledge_ends = falls && count == 9;
  wire acknowledges = rises && selected && count == 8;
  wire is_own = shift[7:1] == device_address;
  wire load = acknowledge_ends && (state == READ || (state == ADDRESS && shift[0]));
  wire shift_in = rises && receiving && !count[3];
  wire shift_out = falls && state == READ && count != 0 && !count[3];
  assign address = pointer;
  assign write_data = shift;
  assign selected = state != IDLE;

  always @(posedge clk) begin
    scl_s <= {scl_s[2:0], scl};
    sda_s <= {sda_s[2:0], sda};
    scl_f <= &scl_s[3:1] | (scl_f & |scl_s[3:1]);
    sda_f <= &sda_s[3:1] | (sda_f & |sda_s[3:1]);
    scl_p <= scl_f;
    sda_p <= sda_f;
    write <= byte_ends && state == WRITE;
    read <= acknowledges && ((state == ADDRESS && shift[0]) || (state == READ && !sda_f));
    count_up <= (byte_ends && state == WRITE) || load;
    if (reset) begin
      scl_s <= 4'hF; sda_s <= 4'hF; scl_f <= 1; sda_f <= 1; scl_p <= 1; sda_p <= 1;
      write <= 0; read <= 0; count_up <= 0;
    end
  end

  always @(posedge clk) begin
    case (state)
      ADDRESS: begin
        if (byte_ends && !is_own) state <= IDLE;
        else if (acknowledge_ends) state <= shift[0] ? READ : POINTER;
      end
      POINTER: if (acknowledge_ends) state <= WRITE;
      READ: if (acknowledges && sda_f) state <= IDLE;
    endcase
    if (start) state <= ADDRESS;
    if (stop || reset) state <= IDLE;
  end

  always @(posedge clk) begin
    if (acknowledge_ends || start || reset) count <= 0;
    else if (rises && selected) count <= count + 1;
    if (load || shift_in || shift_out) shift <= load ? read_data : {shift[6:0], sda_f};
    if (count_up || (byte_ends && state == POINTER)) pointer <= count_up ? pointer + 1 : shift;
    if (start || stop || reset) sda_low <= 0;
    else if (falls)
      sda_low <= (byte_ends && receiving && !(state == ADDRESS && !is_own)) ||
                 (load && !read_data[7]) || (shift_out && !shift[6]);
  end
endmodule

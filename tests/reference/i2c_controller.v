// I2C controller: register interface, 17-state bit machine, byte machine, filters, arbitration.
// twin: block=host-interface settings="bus=i2c role=controller" top=i2c_controller
module i2c_controller(input clk, input reset, input [2:0] address, input write, input [7:0] write_data,
                      output reg [7:0] read_data, output reg interrupt, input scl, input sda,
                      output scl_low, output sda_low);
  reg [15:0] prescaler;
  reg enabled, interrupt_enable;
  reg [7:0] transmit;
  reg c_start, c_stop, c_read, c_write, refuse;
  reg command_done;
  wire command_written = write && address == 4 && enabled;
  always @(posedge clk) begin
    if (reset || (command_done && !command_written)) {c_start, c_stop, c_read, c_write} <= 0;
    else if (command_written) {c_start, c_stop, c_read, c_write} <= write_data[7:4];
    if (reset) begin
      prescaler <= 16'hFFFF; {enabled, interrupt_enable} <= 0; transmit <= 0; refuse <= 0;
    end else if (write) begin
      case (address)
        0: prescaler[7:0] <= write_data;
        1: prescaler[15:8] <= write_data;
        2: {enabled, interrupt_enable} <= write_data[7:6];
        3: transmit <= write_data;
        4: if (enabled) refuse <= write_data[3];
      endcase
    end
  end

  reg [13:0] filter;
  reg [1:0] scl_s, sda_s;
  reg [2:0] scl_f, sda_f;
  reg scl_v, sda_v, scl_p, sda_p;
  wire sample = filter == 0;
  always @(posedge clk) begin
    if (enabled) filter <= sample ? prescaler[15:2] : filter - 1;
    scl_s <= {scl_s[0], scl};
    sda_s <= {sda_s[0], sda};
    if (sample) begin
      scl_f <= {scl_f[1:0], scl_s[1]};
      sda_f <= {sda_f[1:0], sda_s[1]};
    end
    scl_v <= (scl_f[0] & scl_f[1]) | (scl_f[0] & scl_f[2]) | (scl_f[1] & scl_f[2]);
    sda_v <= (sda_f[0] & sda_f[1]) | (sda_f[0] & sda_f[2]) | (sda_f[1] & sda_f[2]);
    scl_p <= scl_v;
    sda_p <= sda_v;
    if (reset) begin
      filter <= 0; scl_s <= 3; sda_s <= 3; scl_f <= 7; sda_f <= 7;
      scl_v <= 1; sda_v <= 1; scl_p <= 1; sda_p <= 1;
    end
  end
  wire start_seen = scl_v && scl_p && sda_p && !sda_v;
  wire stop_seen = scl_v && scl_p && !sda_p && sda_v;

  // Bit machine.
  reg scl_released, sda_released, bit_done, lost, checks, stop_expected;
  reg [15:0] timer;
  reg [4:0] start_q;
  reg [3:0] stop_q, read_q, write_q;
  reg b_start, b_read, b_write, b_acknowledge, b_stop;
  reg [7:0] shift;
  reg [2:0] bit_count;
  wire data_bit = b_write ? shift[7] : refuse;
  wire order_read = b_read || (b_acknowledge && !c_read);
  wire order_write = b_write || (b_acknowledge && c_read);
  wire stretched = scl_released && !scl_v;
  wire tick = (timer == 0 && !stretched) || (scl_released && scl_p && !scl_v);
  wire active = |start_q || |stop_q || |read_q || |write_q;
  wire rests = !active && !bit_done;
  wire clear = reset || !enabled || lost;
  assign scl_low = !scl_released;
  assign sda_low = !sda_released;
  always @(posedge clk) begin
    if (reset) timer <= 0;
    else if (tick || !enabled) timer <= prescaler;
    else if (!stretched) timer <= timer - 1;
    bit_done <= 0;
    lost <= (checks && sda_released && !sda_v) || (active && stop_seen && !stop_expected);
    if (tick) begin
      start_q <= {start_q[3:0], rests && b_start};
      stop_q <= {stop_q[2:0], rests && b_stop};
      read_q <= {read_q[2:0], rests && order_read};
      write_q <= {write_q[2:0], rests && order_write};
      checks <= write_q[2];
      bit_done <= start_q[4] || stop_q[3] || read_q[3] || write_q[3];
      if (stop_q[3]) stop_expected <= 1;
      else if (start_q[3]) stop_expected <= 0;
      if (start_q[4] || stop_q[0] || read_q[0] || read_q[3] || write_q[0] || write_q[3]) scl_released <= 0;
      else if (active && !start_q[0]) scl_released <= 1;
      if (|write_q) sda_released <= data_bit;
      else if (start_q[0] || start_q[1] || stop_q[3] || |read_q) sda_released <= 1;
      else if (active) sda_released <= 0;
    end
    if (clear) begin
      start_q <= 0; stop_q <= 0; read_q <= 0; write_q <= 0; checks <= 0; stop_expected <= 0;
      bit_done <= 0; lost <= 0; scl_released <= 1; sda_released <= 1;
    end
  end

  // Byte machine.
  reg received_bit, refused;
  wire byte_active = b_start || b_read || b_write || b_acknowledge || b_stop;
  wire go = (c_read || c_write || c_stop) && !byte_active && !command_done;
  always @(posedge clk) begin
    command_done <= lost;
    if (scl_v && !scl_p) received_bit <= sda_v;
    if (go) begin
      shift <= transmit;
      bit_count <= 0;
      if (c_start) b_start <= 1;
      else if (c_read) b_read <= 1;
      else if (c_write) b_write <= 1;
      else b_stop <= 1;
    end
    if (bit_done) begin
      if (b_start) begin
        b_start <= 0;
        b_read <= c_read;
        b_write <= !c_read;
      end
      if (b_read || b_write) begin
        shift <= {shift[6:0], received_bit};
        bit_count <= bit_count + 1;
        if (bit_count == 7) begin
          b_read <= 0;
          b_write <= 0;
          b_acknowledge <= 1;
        end
      end
      if (b_acknowledge) begin
        b_acknowledge <= 0;
        if (c_write) refused <= received_bit;
        if (c_stop) b_stop <= 1;
        else command_done <= 1;
      end
      if (b_stop) begin
        b_stop <= 0;
        command_done <= 1;
      end
    end
    if (clear) {b_start, b_read, b_write, b_acknowledge, b_stop} <= 0;
    if (reset) begin command_done <= 0; refused <= 0; end
  end

  // Status and read side.
  reg busy, lost_flag, flag;
  always @(posedge clk) begin
    busy <= start_seen || (busy && !stop_seen);
    lost_flag <= lost || (lost_flag && !(command_written && write_data[7]));
    flag <= command_done || (flag && !(command_written && write_data[0]));
    interrupt <= flag && interrupt_enable;
    if (!enabled) busy <= 0;
    if (reset) begin busy <= 0; lost_flag <= 0; flag <= 0; interrupt <= 0; end
    case (address)
      0: read_data <= prescaler[7:0];
      1: read_data <= prescaler[15:8];
      2: read_data <= {enabled, interrupt_enable, 6'd0};
      3: read_data <= shift;
      4: read_data <= {refused, busy, lost_flag, 3'd0, c_read || c_write || c_stop, flag};
      5: read_data <= transmit;
      default: read_data <= {c_start, c_stop, c_read, c_write, refuse, 3'd0};
    endcase
  end
endmodule

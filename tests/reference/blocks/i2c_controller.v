// I2C controller fed with instructions: queue of one, nine steps a bit, stretching, arbitration, interrupt.
// twin: block=host-interface settings="bus=i2c role=controller" top=i2c_controller
module i2c_controller(input clk, input reset, input [15:0] instruction, input write, input take,
                      input scl, input sda, output [13:0] report, output interrupt,
                      output reg scl_low, output reg sda_low);
  localparam RATE = 0, CONDITION = 1, SEND = 2, RECEIVE = 3;
  wire rate_written = write && instruction[15:14] == RATE;
  wire clear = reset || rate_written;

  // Lines: two registers to synchronise, a count of clocks in which the pin differs, then edges.
  reg [3:0] filter, scl_count, sda_count;
  reg [1:0] scl_s, sda_s;
  reg scl_f, sda_f, scl_p, sda_p, seen, busy;
  always @(posedge clk) begin
    if (rate_written) filter <= instruction[13:10];
    scl_s <= {scl_s[0], scl};
    sda_s <= {sda_s[0], sda};
    scl_count <= scl_count + 1;
    if (scl_s[1] == scl_f) scl_count <= 0;
    else if (scl_count == filter) begin
      scl_count <= 0;
      scl_f <= scl_s[1];
    end
    sda_count <= sda_count + 1;
    if (sda_s[1] == sda_f) sda_count <= 0;
    else if (sda_count == filter) begin
      sda_count <= 0;
      sda_f <= sda_s[1];
    end
    scl_p <= scl_f;
    sda_p <= sda_f;
    if (reset) begin
      scl_s <= 3; sda_s <= 3; scl_f <= 1; sda_f <= 1; scl_p <= 1; sda_p <= 1; scl_count <= 0; sda_count <= 0;
    end
    if (scl_f) seen <= sda_f;
    if (clear) busy <= 0;
    else if (scl_f && scl_p && sda_f != sda_p) busy <= sda_p;
  end
  wire scl_falls = scl_p && !scl_f;
  wire sda_moves = scl_f && scl_p && sda_f != sda_p;

  // Queue.
  reg full;
  reg [10:0] queue;
  reg refused, lost, notified;
  reg running;
  wire load = full && !running;
  wire accept = write && instruction[15:14] != RATE && !full && !refused && !lost;
  wire lost_now, refused_now;
  always @(posedge clk) begin
    if (accept) queue <= {instruction[15:14], instruction[8:0]};
    if (clear || lost_now || refused_now) full <= 0;
    else if (accept) full <= 1;
    else if (load) full <= 0;
  end

  // The running instruction.
  reg condition, receive, option, notify, holding;
  reg [7:0] shift, received;
  reg [3:0] step, bits;
  wire is_start = condition && !option;
  wire is_stop = condition && option;
  wire acknowledge = bits[3];
  wire waits = running && is_start && !holding && !sda_low && busy;

  reg [9:0] rate, timer;
  wire stretched = !scl_low && !scl_f;
  wire cut = running && !scl_low && scl_falls;
  wire tick = running && timer == 0 && !stretched && !waits;
  always @(posedge clk) begin
    if (rate_written) rate <= instruction[9:0];
    if (cut) timer <= rate;
    else if (!stretched) timer <= (timer == 0 || !running || waits) ? rate : timer - 1;
  end

  wire made = is_start ? sda_low : !holding;
  wire slot_ends = (tick && step == (condition ? 13 : 8)) || (cut && (!condition || made));
  wire ends = slot_ends && (condition || acknowledge);
  wire ours = condition || receive == acknowledge;
  wire denied = ((slot_ends && ours) || (tick && is_start && step == 9)) && !sda_low && !seen;
  assign lost_now = denied
                 || (holding && !condition && !scl_low && sda_moves)
                 || (holding && condition && cut && !made)
                 || (load && !holding && !(queue[10:9] == CONDITION && !queue[0]));
  assign refused_now = ends && !condition && !receive && seen;
  wire drop = clear || lost_now;

  always @(posedge clk) begin
    if (load) begin
      condition <= queue[10:9] == CONDITION;
      receive <= queue[10:9] == RECEIVE;
      notify <= queue[8];
      option <= queue[0];
    end
    if (drop || ends) running <= 0;
    else if (load) running <= 1;

    if (drop || waits || (slot_ends && is_stop)) step <= 5;
    else if (slot_ends) step <= 0;
    else if (tick) step <= step + 1;

    if (drop || ends) bits <= 0;
    else if (slot_ends && !condition) bits <= bits + 1;

    if (drop || (tick && is_stop && step == 8)) holding <= 0;
    else if (ends && is_start) holding <= 1;

    if (load) shift <= queue[7:0];
    else if (slot_ends && !acknowledge) shift <= {shift[6:0], seen};
    if (ends && receive) received <= shift;
  end

  // Lines as driven.
  always @(posedge clk) begin
    if (drop || (tick && step == 4)) scl_low <= 0;
    else if (slot_ends) scl_low <= !is_stop;

    if (drop) sda_low <= 0;
    else if (tick) begin
      if (step == 0) begin
        if (condition) sda_low <= option;
        else if (receive) sda_low <= acknowledge && !option;
        else sda_low <= !acknowledge && !shift[7];
      end
      if (is_start && step == 9) sda_low <= 1;
      if (is_stop && step == 8) sda_low <= 0;
    end
  end

  // Report.
  always @(posedge clk) begin
    if (take) {refused, lost, notified} <= 0;
    if (refused_now) refused <= 1;
    if (lost_now) lost <= 1;
    if (refused_now || lost_now || (ends && notify)) notified <= 1;
    if (clear) {refused, lost, notified} <= 0;
  end
  assign report = {notified, full, busy, holding, lost, refused, received};
  assign interrupt = notified;
endmodule

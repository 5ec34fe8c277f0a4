// The state table catalog/state-machines/message-transmit.toml as a designer would write it out: one-hot states, one product
// term for what several states do alike, registered outputs. At most one event is high in a clock; the event of a
// timer is a level that is looked at while the timer runs and no other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/message-transmit.toml style=factored" top=message_transmit
module message_transmit (
    input wire clk,
    input wire reset,
    input wire event_message_wanted,
    input wire event_soft_reset_wanted,
    input wire event_line_idle,
    input wire event_line_busy,
    input wire event_frame_sent,
    input wire event_acknowledge,
    input wire event_message_received,
    input wire event_hard_reset_wanted,
    input wire event_hard_reset_sent,
    input wire event_hard_reset_seen,
    input wire event_acknowledge_wait_timeout,
    input wire event_sink_wait_timeout,
    input wire is_number_fits,
    input wire is_may_start,
    output reg [5:0] state,
    output reg do_build_header,
    output reg do_send_frame,
    output reg do_send_hard_reset,
    output reg do_next_number,
    output reg do_clear_number,
    output reg do_report_sent,
    output reg do_report_failed,
    output reg do_report_discarded,
    output reg run_acknowledge_wait,
    output reg run_sink_wait
);
  localparam S_IDLE = 0;
  localparam S_WAITING_FOR_RESISTOR = 1;
  localparam S_WAITING_FOR_LINE = 2;
  localparam S_SENDING = 3;
  localparam S_WAITING_FOR_ACKNOWLEDGE = 4;
  localparam S_SENDING_HARD_RESET = 5;

  reg [1:0] count_retry;
  wire is_retries_exhausted = count_retry == 2;
  reg entered;
  wire busy = event_message_wanted | event_soft_reset_wanted | event_line_idle | event_line_busy |
      event_frame_sent | event_acknowledge | event_message_received | event_hard_reset_wanted |
      event_hard_reset_sent | event_hard_reset_seen;
  wire expired_acknowledge_wait = event_acknowledge_wait_timeout & run_acknowledge_wait;
  wire take_acknowledge_wait_timeout = expired_acknowledge_wait & ~busy;
  wire expired_sink_wait = event_sink_wait_timeout & run_sink_wait;
  wire take_sink_wait_timeout = expired_sink_wait & ~busy & ~expired_acknowledge_wait;

  wire fire_0 = (state[S_IDLE]) & event_message_wanted & (is_may_start);
  wire fire_1 = (state[S_IDLE]) & event_message_wanted & (~is_may_start);
  wire fire_2 = (state[S_IDLE] | state[S_WAITING_FOR_RESISTOR]) & event_soft_reset_wanted;
  wire fire_3 = ~(state[S_SENDING_HARD_RESET]) & event_hard_reset_wanted;
  wire fire_4 = (state[S_IDLE]) & event_hard_reset_seen;
  wire fire_5 = (state[S_WAITING_FOR_RESISTOR] | state[S_WAITING_FOR_LINE] |
      state[S_WAITING_FOR_ACKNOWLEDGE]) & event_message_received;
  wire fire_6 = ~(state[S_IDLE]) & event_hard_reset_seen;
  wire fire_7 = (state[S_WAITING_FOR_RESISTOR]) & take_sink_wait_timeout & (is_may_start);
  wire fire_8 = (state[S_WAITING_FOR_RESISTOR]) & take_sink_wait_timeout & (~is_may_start);
  wire fire_9 = (state[S_WAITING_FOR_LINE]) & event_line_idle;
  wire fire_10 = (state[S_SENDING]) & event_line_busy;
  wire fire_11 = (state[S_SENDING]) & event_frame_sent;
  wire fire_12 = (state[S_WAITING_FOR_ACKNOWLEDGE]) & event_acknowledge & (is_number_fits);
  wire fire_13 = (state[S_WAITING_FOR_ACKNOWLEDGE]) & event_acknowledge & (~is_number_fits &
      ~is_retries_exhausted);
  wire fire_14 = (state[S_WAITING_FOR_ACKNOWLEDGE]) & event_acknowledge & (~is_number_fits &
      is_retries_exhausted);
  wire fire_15 = (state[S_WAITING_FOR_ACKNOWLEDGE]) & take_acknowledge_wait_timeout & (~is_retries_exhausted);
  wire fire_16 = (state[S_WAITING_FOR_ACKNOWLEDGE]) & take_acknowledge_wait_timeout & (is_retries_exhausted);
  wire fire_17 = (state[S_SENDING_HARD_RESET]) & event_hard_reset_sent;
  wire left = fire_0 | fire_1 | fire_2 | fire_3 | fire_5 | fire_6 | fire_7 | fire_8 | fire_9 | fire_10 |
      fire_11 | fire_12 | fire_13 | fire_14 | fire_15 | fire_16 | fire_17;


  always @(posedge clk)
    if (reset) begin
      state <= 1;
      entered <= 1;
      count_retry <= 0;
      run_acknowledge_wait <= 0;
      run_sink_wait <= 0;
      do_build_header <= 0;
      do_send_frame <= 0;
      do_send_hard_reset <= 0;
      do_next_number <= 0;
      do_clear_number <= 0;
      do_report_sent <= 0;
      do_report_failed <= 0;
      do_report_discarded <= 0;
    end else begin
      if (left) begin
        state[S_IDLE] <= fire_5 | fire_6 | fire_12 | fire_14 | fire_16 | fire_17;
        state[S_WAITING_FOR_RESISTOR] <= fire_1 | fire_8;
        state[S_WAITING_FOR_LINE] <= fire_0 | fire_2 | fire_7 | fire_10 | fire_13 | fire_15;
        state[S_SENDING] <= fire_9;
        state[S_WAITING_FOR_ACKNOWLEDGE] <= fire_11;
        state[S_SENDING_HARD_RESET] <= fire_3;
      end
      entered <= left;
      if (fire_6 | (entered & (state[S_IDLE]))) count_retry <= 0;
      else if ((fire_13 | fire_15) & ~is_retries_exhausted) count_retry <= count_retry + 1;
      run_acknowledge_wait <= (state[S_WAITING_FOR_ACKNOWLEDGE]) & ~left;
      run_sink_wait <= (state[S_WAITING_FOR_RESISTOR]) & ~left;
      do_build_header <= fire_0 | fire_1 | fire_2;
      do_send_frame <= fire_9;
      do_send_hard_reset <= (entered & (state[S_SENDING_HARD_RESET]));
      do_next_number <= fire_5 | fire_12 | fire_14 | fire_16;
      do_clear_number <= fire_2 | fire_4 | fire_6 | fire_17;
      do_report_sent <= fire_12 | fire_17;
      do_report_failed <= fire_14 | fire_16;
      do_report_discarded <= fire_5;
    end
endmodule

// The state table catalog/state-machines/video-switch.toml as a designer would write it out: one-hot states, one product
// term for what several states do alike, registered outputs. At most one event is high in a clock; the event of a
// timer is a level that is looked at while the timer runs and no other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/video-switch.toml style=factored" top=video_switch
module video_switch (
    input wire clk,
    input wire reset,
    input wire event_attached,
    input wire event_detached,
    input wire event_isolate,
    input wire event_data_only,
    input wire event_two_lanes,
    input wire event_four_lanes,
    input wire event_plug_high,
    input wire event_plug_low,
    input wire event_plug_interrupt,
    input wire event_settle_timeout,
    input wire event_interrupt_pulse_timeout,
    input wire event_interrupt_gap_timeout,
    input wire is_is_flipped,
    output reg [13:0] state,
    output reg do_set_flip,
    output reg do_clear_flip,
    output reg do_report_safe,
    output reg do_report_set,
    output reg set_data_lanes,
    output reg set_video_pair_a,
    output reg set_video_pair_b,
    output reg set_auxiliary,
    output reg set_hot_plug,
    output reg run_settle,
    output reg run_interrupt_pulse,
    output reg run_interrupt_gap
);
  localparam S_OPEN = 0;
  localparam S_DATA = 1;
  localparam S_ISOLATING = 2;
  localparam S_SAFE = 3;
  localparam S_TWO_LANES_SETTLING = 4;
  localparam S_TWO_LANES_DARK = 5;
  localparam S_TWO_LANES_FRESH = 6;
  localparam S_TWO_LANES_LIT = 7;
  localparam S_TWO_LANES_INTERRUPT = 8;
  localparam S_FOUR_LANES_SETTLING = 9;
  localparam S_FOUR_LANES_DARK = 10;
  localparam S_FOUR_LANES_FRESH = 11;
  localparam S_FOUR_LANES_LIT = 12;
  localparam S_FOUR_LANES_INTERRUPT = 13;

  wire busy = event_attached | event_detached | event_isolate | event_data_only | event_two_lanes |
      event_four_lanes | event_plug_high | event_plug_low | event_plug_interrupt;
  wire expired_settle = event_settle_timeout & run_settle;
  wire take_settle_timeout = expired_settle & ~busy;
  wire expired_interrupt_pulse = event_interrupt_pulse_timeout & run_interrupt_pulse;
  wire take_interrupt_pulse_timeout = expired_interrupt_pulse & ~busy & ~expired_settle;
  wire expired_interrupt_gap = event_interrupt_gap_timeout & run_interrupt_gap;
  wire take_interrupt_gap_timeout = expired_interrupt_gap & ~busy & ~expired_settle &
      ~expired_interrupt_pulse;

  wire fire_0 = (state[S_OPEN]) & event_attached & (is_is_flipped);
  wire fire_1 = (state[S_OPEN]) & event_attached & (~is_is_flipped);
  wire fire_2 = ~(state[S_OPEN]) & event_detached;
  wire fire_3 = ~(state[S_OPEN] | state[S_ISOLATING]) & event_isolate;
  wire fire_4 = (state[S_DATA] | state[S_SAFE] | state[S_FOUR_LANES_DARK] | state[S_FOUR_LANES_LIT]) &
      event_two_lanes;
  wire fire_5 = (state[S_DATA] | state[S_SAFE] | state[S_TWO_LANES_DARK] | state[S_TWO_LANES_LIT]) &
      event_four_lanes;
  wire fire_6 = (state[S_ISOLATING]) & take_settle_timeout;
  wire fire_7 = (state[S_SAFE]) & event_data_only;
  wire fire_8 = (state[S_TWO_LANES_SETTLING]) & take_settle_timeout;
  wire fire_9 = (state[S_TWO_LANES_DARK]) & event_plug_high;
  wire fire_10 = (state[S_TWO_LANES_FRESH] | state[S_TWO_LANES_LIT] | state[S_TWO_LANES_INTERRUPT]) &
      event_plug_low;
  wire fire_11 = (state[S_TWO_LANES_FRESH]) & take_interrupt_gap_timeout;
  wire fire_12 = (state[S_TWO_LANES_LIT]) & event_plug_interrupt;
  wire fire_13 = (state[S_TWO_LANES_INTERRUPT]) & take_interrupt_pulse_timeout;
  wire fire_14 = (state[S_FOUR_LANES_SETTLING]) & take_settle_timeout;
  wire fire_15 = (state[S_FOUR_LANES_DARK]) & event_plug_high;
  wire fire_16 = (state[S_FOUR_LANES_FRESH] | state[S_FOUR_LANES_LIT] | state[S_FOUR_LANES_INTERRUPT]) &
      event_plug_low;
  wire fire_17 = (state[S_FOUR_LANES_FRESH]) & take_interrupt_gap_timeout;
  wire fire_18 = (state[S_FOUR_LANES_LIT]) & event_plug_interrupt;
  wire fire_19 = (state[S_FOUR_LANES_INTERRUPT]) & take_interrupt_pulse_timeout;
  wire left = fire_0 | fire_1 | fire_2 | fire_3 | fire_4 | fire_5 | fire_6 | fire_7 | fire_8 | fire_9 |
      fire_10 | fire_11 | fire_12 | fire_13 | fire_14 | fire_15 | fire_16 | fire_17 | fire_18 | fire_19;


  always @(posedge clk)
    if (reset) begin
      state <= 1;
      run_settle <= 0;
      run_interrupt_pulse <= 0;
      run_interrupt_gap <= 0;
      do_set_flip <= 0;
      do_clear_flip <= 0;
      do_report_safe <= 0;
      do_report_set <= 0;
      set_data_lanes <= 0;
      set_video_pair_a <= 0;
      set_video_pair_b <= 0;
      set_auxiliary <= 0;
      set_hot_plug <= 0;
    end else begin
      if (left) begin
        state[S_OPEN] <= fire_2;
        state[S_DATA] <= fire_0 | fire_1 | fire_7;
        state[S_ISOLATING] <= fire_3;
        state[S_SAFE] <= fire_6;
        state[S_TWO_LANES_SETTLING] <= fire_4;
        state[S_TWO_LANES_DARK] <= fire_8 | fire_10;
        state[S_TWO_LANES_FRESH] <= fire_9 | fire_13;
        state[S_TWO_LANES_LIT] <= fire_11;
        state[S_TWO_LANES_INTERRUPT] <= fire_12;
        state[S_FOUR_LANES_SETTLING] <= fire_5;
        state[S_FOUR_LANES_DARK] <= fire_14 | fire_16;
        state[S_FOUR_LANES_FRESH] <= fire_15 | fire_19;
        state[S_FOUR_LANES_LIT] <= fire_17;
        state[S_FOUR_LANES_INTERRUPT] <= fire_18;
      end
      run_settle <= (state[S_ISOLATING] | state[S_TWO_LANES_SETTLING] | state[S_FOUR_LANES_SETTLING]) & ~left;
      run_interrupt_pulse <= (state[S_TWO_LANES_INTERRUPT] | state[S_FOUR_LANES_INTERRUPT]) & ~left;
      run_interrupt_gap <= (state[S_TWO_LANES_FRESH] | state[S_FOUR_LANES_FRESH]) & ~left;
      do_set_flip <= fire_0;
      do_clear_flip <= fire_1;
      do_report_safe <= fire_6;
      do_report_set <= fire_8 | fire_14;
      set_data_lanes <= (state[S_DATA] | state[S_TWO_LANES_SETTLING] | state[S_TWO_LANES_DARK] |
          state[S_TWO_LANES_FRESH] | state[S_TWO_LANES_LIT] | state[S_TWO_LANES_INTERRUPT]);
      set_video_pair_a <= ~(state[S_OPEN] | state[S_DATA] | state[S_ISOLATING] | state[S_SAFE]);
      set_video_pair_b <= (state[S_FOUR_LANES_SETTLING] | state[S_FOUR_LANES_DARK] |
          state[S_FOUR_LANES_FRESH] | state[S_FOUR_LANES_LIT] | state[S_FOUR_LANES_INTERRUPT]);
      set_auxiliary <= ~(state[S_OPEN] | state[S_DATA] | state[S_ISOLATING] | state[S_SAFE]);
      set_hot_plug <= (state[S_TWO_LANES_FRESH] | state[S_TWO_LANES_LIT] | state[S_FOUR_LANES_FRESH] |
          state[S_FOUR_LANES_LIT]);
    end
endmodule

// The state table catalog/state-machines/alternate-mode.toml as a designer would write it out: one-hot states, one product
// term for what several states do alike, registered outputs. At most one event is high in a clock; the event of a
// timer is a level that is looked at while the timer runs and no other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/alternate-mode.toml style=factored" top=alternate_mode
module alternate_mode (
    input wire clk,
    input wire reset,
    input wire event_contract,
    input wire event_contract_lost,
    input wire event_acknowledged,
    input wire event_refused,
    input wire event_busy,
    input wire event_attention,
    input wire event_message_failed,
    input wire event_leave_wanted,
    input wire event_enter_wanted,
    input wire event_mux_is_safe,
    input wire event_mux_is_set,
    input wire event_response_timeout,
    input wire event_entry_timeout,
    input wire event_exit_timeout,
    input wire event_busy_wait_timeout,
    input wire is_more_standards,
    input wire is_mode_is_known,
    input wire is_more_modes,
    input wire is_partner_has_modes,
    output reg [16:0] state,
    output reg do_send_discover_identity,
    output reg do_send_discover_standards,
    output reg do_send_discover_modes,
    output reg do_send_enter_mode,
    output reg do_send_exit_mode,
    output reg do_send_status_update,
    output reg do_send_configure,
    output reg do_keep_identity,
    output reg do_keep_standards,
    output reg do_keep_modes,
    output reg do_isolate_lanes,
    output reg do_connect_lanes,
    output reg do_report_mode,
    output reg do_report_no_mode,
    output reg do_report_attention,
    output reg run_response,
    output reg run_entry,
    output reg run_exit,
    output reg run_busy_wait
);
  localparam S_INACTIVE = 0;
  localparam S_DISCOVER_IDENTITY = 1;
  localparam S_IDENTITY_WAIT = 2;
  localparam S_DISCOVER_STANDARDS = 3;
  localparam S_STANDARDS_WAIT = 4;
  localparam S_DISCOVER_MODES = 5;
  localparam S_MODES_WAIT = 6;
  localparam S_ISOLATE = 7;
  localparam S_ENTER_MODE = 8;
  localparam S_ENTRY_WAIT = 9;
  localparam S_STATUS_UPDATE = 10;
  localparam S_CONNECT = 11;
  localparam S_CONFIGURE = 12;
  localparam S_ACTIVE = 13;
  localparam S_LEAVING = 14;
  localparam S_EXIT_MODE = 15;
  localparam S_NO_MODE = 16;

  reg [1:0] count_attempt;
  wire is_attempts_exhausted = count_attempt == 3;
  reg entered;
  wire busy = event_contract | event_contract_lost | event_acknowledged | event_refused | event_busy |
      event_attention | event_message_failed | event_leave_wanted | event_enter_wanted | event_mux_is_safe |
      event_mux_is_set;
  wire expired_response = event_response_timeout & run_response;
  wire take_response_timeout = expired_response & ~busy;
  wire expired_entry = event_entry_timeout & run_entry;
  wire take_entry_timeout = expired_entry & ~busy & ~expired_response;
  wire expired_exit = event_exit_timeout & run_exit;
  wire take_exit_timeout = expired_exit & ~busy & ~expired_response & ~expired_entry;
  wire expired_busy_wait = event_busy_wait_timeout & run_busy_wait;
  wire take_busy_wait_timeout = expired_busy_wait & ~busy & ~expired_response & ~expired_entry &
      ~expired_exit;

  wire fire_0 = (state[S_INACTIVE]) & event_contract;
  wire fire_1 = ~(state[S_INACTIVE]) & event_contract_lost;
  wire fire_2 = (state[S_DISCOVER_IDENTITY]) & event_acknowledged & (is_partner_has_modes);
  wire fire_3 = (state[S_DISCOVER_IDENTITY]) & event_acknowledged & (~is_partner_has_modes);
  wire fire_4 = (state[S_DISCOVER_IDENTITY] | state[S_DISCOVER_STANDARDS] | state[S_DISCOVER_MODES] |
      state[S_ENTER_MODE] | state[S_EXIT_MODE]) & event_refused;
  wire fire_5 = (state[S_DISCOVER_IDENTITY]) & event_busy & (~is_attempts_exhausted);
  wire fire_6 = (state[S_DISCOVER_IDENTITY] | state[S_ENTER_MODE]) & event_busy & (is_attempts_exhausted);
  wire fire_7 = (state[S_DISCOVER_IDENTITY] | state[S_DISCOVER_STANDARDS] | state[S_DISCOVER_MODES] |
      state[S_ENTER_MODE] | state[S_EXIT_MODE]) & event_message_failed;
  wire fire_8 = (state[S_DISCOVER_IDENTITY]) & take_response_timeout & (~is_attempts_exhausted);
  wire fire_9 = (state[S_DISCOVER_IDENTITY]) & take_response_timeout & (is_attempts_exhausted);
  wire fire_10 = (state[S_IDENTITY_WAIT]) & take_busy_wait_timeout;
  wire fire_11 = (state[S_DISCOVER_STANDARDS]) & event_acknowledged & (is_more_standards);
  wire fire_12 = (state[S_DISCOVER_STANDARDS]) & event_acknowledged & (~is_more_standards);
  wire fire_13 = (state[S_DISCOVER_STANDARDS]) & event_busy;
  wire fire_14 = (state[S_DISCOVER_STANDARDS] | state[S_DISCOVER_MODES]) & take_response_timeout;
  wire fire_15 = (state[S_STANDARDS_WAIT]) & take_busy_wait_timeout;
  wire fire_16 = (state[S_DISCOVER_MODES]) & event_acknowledged & (is_mode_is_known);
  wire fire_17 = (state[S_DISCOVER_MODES]) & event_acknowledged & (~is_mode_is_known & is_more_modes);
  wire fire_18 = (state[S_DISCOVER_MODES]) & event_acknowledged & (~is_mode_is_known & ~is_more_modes);
  wire fire_19 = (state[S_DISCOVER_MODES]) & event_busy;
  wire fire_20 = (state[S_MODES_WAIT]) & take_busy_wait_timeout;
  wire fire_21 = (state[S_ISOLATE]) & event_mux_is_safe;
  wire fire_22 = (state[S_ENTER_MODE]) & event_acknowledged;
  wire fire_23 = (state[S_ENTER_MODE]) & event_busy & (~is_attempts_exhausted);
  wire fire_24 = (state[S_ENTER_MODE]) & take_entry_timeout;
  wire fire_25 = (state[S_ENTRY_WAIT]) & take_busy_wait_timeout;
  wire fire_26 = (state[S_STATUS_UPDATE]) & event_acknowledged;
  wire fire_27 = (state[S_STATUS_UPDATE] | state[S_CONFIGURE]) & event_refused;
  wire fire_28 = (state[S_STATUS_UPDATE] | state[S_CONFIGURE]) & event_busy;
  wire fire_29 = (state[S_STATUS_UPDATE] | state[S_CONNECT] | state[S_CONFIGURE] | state[S_ACTIVE]) &
      event_attention;
  wire fire_30 = (state[S_STATUS_UPDATE] | state[S_CONFIGURE]) & event_message_failed;
  wire fire_31 = (state[S_STATUS_UPDATE] | state[S_CONFIGURE]) & take_response_timeout;
  wire fire_32 = (state[S_CONNECT]) & event_mux_is_set;
  wire fire_33 = (state[S_CONFIGURE]) & event_acknowledged;
  wire fire_34 = (state[S_ACTIVE]) & event_leave_wanted;
  wire fire_35 = (state[S_LEAVING]) & event_mux_is_safe;
  wire fire_36 = (state[S_EXIT_MODE]) & event_acknowledged;
  wire fire_37 = (state[S_EXIT_MODE]) & event_busy;
  wire fire_38 = (state[S_EXIT_MODE]) & take_exit_timeout;
  wire fire_39 = (state[S_NO_MODE]) & event_enter_wanted & (is_mode_is_known);
  wire left = fire_0 | fire_1 | fire_2 | fire_3 | fire_4 | fire_5 | fire_6 | fire_7 | fire_8 | fire_9 |
      fire_10 | fire_11 | fire_12 | fire_13 | fire_14 | fire_15 | fire_16 | fire_17 | fire_18 | fire_19 |
      fire_20 | fire_21 | fire_22 | fire_23 | fire_24 | fire_25 | fire_26 | fire_27 | fire_28 | fire_30 |
      fire_31 | fire_32 | fire_33 | fire_34 | fire_35 | fire_36 | fire_37 | fire_38 | fire_39;


  always @(posedge clk)
    if (reset) begin
      state <= 1;
      entered <= 1;
      count_attempt <= 0;
      run_response <= 0;
      run_entry <= 0;
      run_exit <= 0;
      run_busy_wait <= 0;
      do_send_discover_identity <= 0;
      do_send_discover_standards <= 0;
      do_send_discover_modes <= 0;
      do_send_enter_mode <= 0;
      do_send_exit_mode <= 0;
      do_send_status_update <= 0;
      do_send_configure <= 0;
      do_keep_identity <= 0;
      do_keep_standards <= 0;
      do_keep_modes <= 0;
      do_isolate_lanes <= 0;
      do_connect_lanes <= 0;
      do_report_mode <= 0;
      do_report_no_mode <= 0;
      do_report_attention <= 0;
    end else begin
      if (left) begin
        state[S_INACTIVE] <= fire_1;
        state[S_DISCOVER_IDENTITY] <= fire_0 | fire_8 | fire_10;
        state[S_IDENTITY_WAIT] <= fire_5;
        state[S_DISCOVER_STANDARDS] <= fire_2 | fire_11 | fire_15;
        state[S_STANDARDS_WAIT] <= fire_13;
        state[S_DISCOVER_MODES] <= fire_12 | fire_17 | fire_20;
        state[S_MODES_WAIT] <= fire_19;
        state[S_ISOLATE] <= fire_16 | fire_39;
        state[S_ENTER_MODE] <= fire_21 | fire_25;
        state[S_ENTRY_WAIT] <= fire_23;
        state[S_STATUS_UPDATE] <= fire_22;
        state[S_CONNECT] <= fire_26;
        state[S_CONFIGURE] <= fire_32;
        state[S_ACTIVE] <= fire_33;
        state[S_LEAVING] <= fire_34;
        state[S_EXIT_MODE] <= fire_24 | fire_27 | fire_28 | fire_30 | fire_31 | fire_35;
        state[S_NO_MODE] <= fire_3 | fire_4 | fire_6 | fire_7 | fire_9 | fire_14 | fire_18 | fire_36 |
            fire_37 | fire_38;
      end
      entered <= left;
      if (fire_12 | (entered & (state[S_INACTIVE] | state[S_NO_MODE]))) count_attempt <= 0;
      else if ((fire_5 | fire_8 | fire_23) & ~is_attempts_exhausted) count_attempt <= count_attempt + 1;
      run_response <= (state[S_DISCOVER_IDENTITY] | state[S_DISCOVER_STANDARDS] | state[S_DISCOVER_MODES] |
          state[S_STATUS_UPDATE] | state[S_CONFIGURE]) & ~left;
      run_entry <= (state[S_ENTER_MODE]) & ~left;
      run_exit <= (state[S_EXIT_MODE]) & ~left;
      run_busy_wait <= (state[S_IDENTITY_WAIT] | state[S_STANDARDS_WAIT] | state[S_MODES_WAIT] |
          state[S_ENTRY_WAIT]) & ~left;
      do_send_discover_identity <= (entered & (state[S_DISCOVER_IDENTITY]));
      do_send_discover_standards <= (entered & (state[S_DISCOVER_STANDARDS]));
      do_send_discover_modes <= (entered & (state[S_DISCOVER_MODES]));
      do_send_enter_mode <= (entered & (state[S_ENTER_MODE]));
      do_send_exit_mode <= (entered & (state[S_EXIT_MODE]));
      do_send_status_update <= (entered & (state[S_STATUS_UPDATE]));
      do_send_configure <= (entered & (state[S_CONFIGURE]));
      do_keep_identity <= fire_2 | fire_3;
      do_keep_standards <= fire_11 | fire_12;
      do_keep_modes <= fire_16 | fire_17 | fire_18;
      do_isolate_lanes <= fire_1 | (entered & (state[S_ISOLATE] | state[S_LEAVING]));
      do_connect_lanes <= (entered & (state[S_CONNECT]));
      do_report_mode <= fire_33;
      do_report_no_mode <= (entered & (state[S_NO_MODE]));
      do_report_attention <= fire_29;
    end
endmodule

// The state table catalog/state-machines/alternate-mode.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/alternate-mode.toml style=ordinary" top=alternate_mode
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
  output reg [4:0] state,
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
  reg left;
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
  wire take_busy_wait_timeout = expired_busy_wait & ~busy & ~expired_response & ~expired_entry & ~expired_exit;

  always @(posedge clk) begin
    left = 0;
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
    if (entered) case (state)
      S_INACTIVE: begin
        count_attempt <= 0;
      end
      S_DISCOVER_IDENTITY: begin
        do_send_discover_identity <= 1;
      end
      S_DISCOVER_STANDARDS: begin
        do_send_discover_standards <= 1;
      end
      S_DISCOVER_MODES: begin
        do_send_discover_modes <= 1;
      end
      S_ISOLATE: begin
        do_isolate_lanes <= 1;
      end
      S_ENTER_MODE: begin
        do_send_enter_mode <= 1;
      end
      S_STATUS_UPDATE: begin
        do_send_status_update <= 1;
      end
      S_CONNECT: begin
        do_connect_lanes <= 1;
      end
      S_CONFIGURE: begin
        do_send_configure <= 1;
      end
      S_LEAVING: begin
        do_isolate_lanes <= 1;
      end
      S_EXIT_MODE: begin
        do_send_exit_mode <= 1;
      end
      S_NO_MODE: begin
        count_attempt <= 0;
        do_report_no_mode <= 1;
      end
      default: ;
    endcase
    case (state)
      S_INACTIVE:
        (* parallel_case *) case (1'b1)
          event_contract: begin
             begin
              state <= S_DISCOVER_IDENTITY; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCOVER_IDENTITY:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
            if (is_partner_has_modes) begin
              do_keep_identity <= 1;
              state <= S_DISCOVER_STANDARDS; left = 1;
            end
            else if (!is_partner_has_modes) begin
              do_keep_identity <= 1;
              state <= S_NO_MODE; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_busy: begin
            if (!is_attempts_exhausted) begin
              if (!is_attempts_exhausted) count_attempt <= count_attempt + 1;
              state <= S_IDENTITY_WAIT; left = 1;
            end
            else if (is_attempts_exhausted) begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          take_response_timeout: begin
            if (!is_attempts_exhausted) begin
              if (!is_attempts_exhausted) count_attempt <= count_attempt + 1;
              state <= S_DISCOVER_IDENTITY; left = 1;
            end
            else if (is_attempts_exhausted) begin
              state <= S_NO_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_IDENTITY_WAIT:
        (* parallel_case *) case (1'b1)
          take_busy_wait_timeout: begin
             begin
              state <= S_DISCOVER_IDENTITY; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCOVER_STANDARDS:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
            if (is_more_standards) begin
              do_keep_standards <= 1;
              state <= S_DISCOVER_STANDARDS; left = 1;
            end
            else if (!is_more_standards) begin
              do_keep_standards <= 1;
              count_attempt <= 0;
              state <= S_DISCOVER_MODES; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_busy: begin
             begin
              state <= S_STANDARDS_WAIT; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          take_response_timeout: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_STANDARDS_WAIT:
        (* parallel_case *) case (1'b1)
          take_busy_wait_timeout: begin
             begin
              state <= S_DISCOVER_STANDARDS; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCOVER_MODES:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
            if (is_mode_is_known) begin
              do_keep_modes <= 1;
              state <= S_ISOLATE; left = 1;
            end
            else if (!is_mode_is_known && is_more_modes) begin
              do_keep_modes <= 1;
              state <= S_DISCOVER_MODES; left = 1;
            end
            else if (!is_mode_is_known && !is_more_modes) begin
              do_keep_modes <= 1;
              state <= S_NO_MODE; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_busy: begin
             begin
              state <= S_MODES_WAIT; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          take_response_timeout: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_MODES_WAIT:
        (* parallel_case *) case (1'b1)
          take_busy_wait_timeout: begin
             begin
              state <= S_DISCOVER_MODES; left = 1;
            end
          end
          default: ;
        endcase
      S_ISOLATE:
        (* parallel_case *) case (1'b1)
          event_mux_is_safe: begin
             begin
              state <= S_ENTER_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_ENTER_MODE:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
             begin
              state <= S_STATUS_UPDATE; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_busy: begin
            if (!is_attempts_exhausted) begin
              if (!is_attempts_exhausted) count_attempt <= count_attempt + 1;
              state <= S_ENTRY_WAIT; left = 1;
            end
            else if (is_attempts_exhausted) begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          take_entry_timeout: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_ENTRY_WAIT:
        (* parallel_case *) case (1'b1)
          take_busy_wait_timeout: begin
             begin
              state <= S_ENTER_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_STATUS_UPDATE:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
             begin
              state <= S_CONNECT; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          event_busy: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          event_attention: begin
             begin
              do_report_attention <= 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          take_response_timeout: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_CONNECT:
        (* parallel_case *) case (1'b1)
          event_attention: begin
             begin
              do_report_attention <= 1;
            end
          end
          event_mux_is_set: begin
             begin
              state <= S_CONFIGURE; left = 1;
            end
          end
          default: ;
        endcase
      S_CONFIGURE:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
             begin
              do_report_mode <= 1;
              state <= S_ACTIVE; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          event_busy: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          event_attention: begin
             begin
              do_report_attention <= 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          take_response_timeout: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_ACTIVE:
        (* parallel_case *) case (1'b1)
          event_attention: begin
             begin
              do_report_attention <= 1;
            end
          end
          event_leave_wanted: begin
             begin
              state <= S_LEAVING; left = 1;
            end
          end
          default: ;
        endcase
      S_LEAVING:
        (* parallel_case *) case (1'b1)
          event_mux_is_safe: begin
             begin
              state <= S_EXIT_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_EXIT_MODE:
        (* parallel_case *) case (1'b1)
          event_acknowledged: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_busy: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          take_exit_timeout: begin
             begin
              state <= S_NO_MODE; left = 1;
            end
          end
          default: ;
        endcase
      S_NO_MODE:
        (* parallel_case *) case (1'b1)
          event_enter_wanted: begin
            if (is_mode_is_known) begin
              state <= S_ISOLATE; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_contract_lost: if (state != S_INACTIVE) begin
         begin
          do_isolate_lanes <= 1;
          state <= S_INACTIVE; left = 1;
        end
      end
      default: ;
    endcase
    entered <= left;
    run_response <= (state == S_DISCOVER_IDENTITY || state == S_DISCOVER_STANDARDS || state == S_DISCOVER_MODES ||
        state == S_STATUS_UPDATE || state == S_CONFIGURE) & ~left;
    run_entry <= (state == S_ENTER_MODE) & ~left;
    run_exit <= (state == S_EXIT_MODE) & ~left;
    run_busy_wait <= (state == S_IDENTITY_WAIT || state == S_STANDARDS_WAIT || state == S_MODES_WAIT || state ==
        S_ENTRY_WAIT) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
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
      run_response <= 0;
      run_entry <= 0;
      run_exit <= 0;
      run_busy_wait <= 0;
      count_attempt <= 0;
    end
  end
endmodule

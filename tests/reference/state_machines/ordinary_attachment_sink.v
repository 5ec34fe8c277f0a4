// The state table catalog/state-machines/attachment-sink.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/attachment-sink.toml style=ordinary" top=attachment_sink
module attachment_sink (
  input wire clk,
  input wire reset,
  input wire event_source_seen,
  input wire event_debug_source_seen,
  input wire event_nothing_seen,
  input wire event_vbus_lost,
  input wire event_advert_changed,
  input wire event_disable,
  input wire event_enable,
  input wire event_fault,
  input wire event_debounce_timeout,
  input wire event_detach_debounce_timeout,
  input wire event_advert_debounce_timeout,
  input wire event_recovery_timeout,
  input wire is_vbus_present,
  input wire is_contract_held,
  output reg [2:0] state,
  output reg do_latch_orientation,
  output reg do_report_attach,
  output reg do_report_detach,
  output reg do_report_current,
  output reg set_pull_down,
  output reg set_power_path,
  output reg set_debug_access,
  output reg run_debounce,
  output reg run_detach_debounce,
  output reg run_advert_debounce,
  output reg run_recovery
);
  localparam S_UNATTACHED = 0;
  localparam S_ATTACH_WAIT = 1;
  localparam S_DETACH_WAIT = 2;
  localparam S_ATTACHED = 3;
  localparam S_DEBUG_WAIT = 4;
  localparam S_DEBUG_ATTACHED = 5;
  localparam S_ERROR_RECOVERY = 6;
  localparam S_DISABLED = 7;

  reg armed_advert_debounce, start_advert_debounce, stop_advert_debounce;
  reg entered;
  reg left;
  wire busy = event_source_seen | event_debug_source_seen | event_nothing_seen | event_vbus_lost |
      event_advert_changed | event_disable | event_enable | event_fault;
  wire expired_debounce = event_debounce_timeout & run_debounce;
  wire take_debounce_timeout = expired_debounce & ~busy;
  wire expired_detach_debounce = event_detach_debounce_timeout & run_detach_debounce;
  wire take_detach_debounce_timeout = expired_detach_debounce & ~busy & ~expired_debounce;
  wire expired_advert_debounce = event_advert_debounce_timeout & run_advert_debounce;
  wire take_advert_debounce_timeout = expired_advert_debounce & ~busy & ~expired_debounce & ~expired_detach_debounce;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_debounce & ~expired_detach_debounce &
      ~expired_advert_debounce;

  always @(posedge clk) begin
    left = 0;
    start_advert_debounce = 0; stop_advert_debounce = 0;
    do_latch_orientation <= 0;
    do_report_attach <= 0;
    do_report_detach <= 0;
    do_report_current <= 0;
    if (entered) case (state)
      S_ATTACHED: begin
        do_latch_orientation <= 1;
        do_report_attach <= 1;
        do_report_current <= 1;
      end
      S_DEBUG_ATTACHED: begin
        do_report_attach <= 1;
      end
      default: ;
    endcase
    case (state)
      S_UNATTACHED:
        (* parallel_case *) case (1'b1)
          event_source_seen: begin
             begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          event_debug_source_seen: begin
             begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACH_WAIT:
        (* parallel_case *) case (1'b1)
          event_debug_source_seen: begin
             begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_present) begin
              state <= S_ATTACHED; left = 1;
            end
            else if (!is_vbus_present) begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_DETACH_WAIT:
        (* parallel_case *) case (1'b1)
          event_source_seen: begin
             begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          event_debug_source_seen: begin
             begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          take_detach_debounce_timeout: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED:
        (* parallel_case *) case (1'b1)
          event_vbus_lost: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          event_advert_changed: begin
            if (!is_contract_held) begin
              start_advert_debounce = 1;
            end
          end
          event_disable: begin
             begin
              stop_advert_debounce = 1;
              state <= S_DISABLED; left = 1;
            end
          end
          event_fault: begin
             begin
              stop_advert_debounce = 1;
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          take_advert_debounce_timeout: begin
             begin
              do_report_current <= 1;
            end
          end
          default: ;
        endcase
      S_DEBUG_WAIT:
        (* parallel_case *) case (1'b1)
          event_source_seen: begin
             begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_present) begin
              state <= S_DEBUG_ATTACHED; left = 1;
            end
            else if (!is_vbus_present) begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_DEBUG_ATTACHED:
        (* parallel_case *) case (1'b1)
          event_vbus_lost: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      S_ERROR_RECOVERY:
        (* parallel_case *) case (1'b1)
          take_recovery_timeout: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      S_DISABLED:
        (* parallel_case *) case (1'b1)
          event_enable: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_disable: if (state != S_ATTACHED && state != S_DISABLED) begin
         begin
          state <= S_DISABLED; left = 1;
        end
      end
      event_fault: if (state != S_ATTACHED && state != S_ERROR_RECOVERY && state != S_DISABLED) begin
         begin
          state <= S_ERROR_RECOVERY; left = 1;
        end
      end
      default: ;
    endcase
    if (left) case (state)
      S_ATTACHED: begin
        do_report_detach <= 1;
      end
      S_DEBUG_ATTACHED: begin
        do_report_detach <= 1;
      end
      default: ;
    endcase
    entered <= left;
    set_pull_down <= state == S_UNATTACHED || state == S_ATTACH_WAIT || state == S_DETACH_WAIT || state ==
        S_ATTACHED || state == S_DEBUG_WAIT || state == S_DEBUG_ATTACHED;
    set_power_path <= state == S_ATTACHED || state == S_DEBUG_ATTACHED;
    set_debug_access <= state == S_DEBUG_ATTACHED;
    run_debounce <= (state == S_ATTACH_WAIT || state == S_DEBUG_WAIT) & ~left;
    run_detach_debounce <= (state == S_DETACH_WAIT) & ~left;
    armed_advert_debounce <= start_advert_debounce | (armed_advert_debounce & ~stop_advert_debounce &
        ~take_advert_debounce_timeout);
    run_advert_debounce <= armed_advert_debounce & ~start_advert_debounce & ~stop_advert_debounce &
        ~take_advert_debounce_timeout;
    run_recovery <= (state == S_ERROR_RECOVERY) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_latch_orientation <= 0;
      do_report_attach <= 0;
      do_report_detach <= 0;
      do_report_current <= 0;
      set_pull_down <= 1;
      set_power_path <= 0;
      set_debug_access <= 0;
      run_debounce <= 0;
      run_detach_debounce <= 0;
      armed_advert_debounce <= 0;
      run_advert_debounce <= 0;
      run_recovery <= 0;
    end
  end
endmodule

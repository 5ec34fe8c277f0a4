// The state table catalog/state-machines/attachment-dual-role.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/attachment-dual-role.toml style=ordinary" top=attachment_dual_role
module attachment_dual_role (
  input wire clk,
  input wire reset,
  input wire event_source_seen,
  input wire event_sink_seen,
  input wire event_audio_seen,
  input wire event_nothing_seen,
  input wire event_vbus_lost,
  input wire event_vbus_safe,
  input wire event_role_swapped_to_source,
  input wire event_role_swapped_to_sink,
  input wire event_fault,
  input wire event_disable,
  input wire event_enable,
  input wire event_toggle_sink_timeout,
  input wire event_toggle_source_timeout,
  input wire event_debounce_timeout,
  input wire event_detach_debounce_timeout,
  input wire event_try_timeout,
  input wire event_try_wait_timeout,
  input wire event_recovery_timeout,
  input wire is_vbus_present,
  input wire is_vbus_is_zero,
  input wire is_cable_is_active,
  input wire is_prefers_source,
  output reg [4:0] state,
  output reg do_latch_orientation,
  output reg do_report_sink,
  output reg do_report_source,
  output reg do_report_detach,
  output reg set_pull_up,
  output reg set_pull_down,
  output reg set_power_path,
  output reg set_vbus_switch,
  output reg set_vconn_switch,
  output reg set_discharge_vbus,
  output reg set_audio_access,
  output reg run_toggle_sink,
  output reg run_toggle_source,
  output reg run_debounce,
  output reg run_detach_debounce,
  output reg run_try,
  output reg run_try_wait,
  output reg run_recovery
);
  localparam S_UNATTACHED_SINK = 0;
  localparam S_UNATTACHED_SOURCE = 1;
  localparam S_ATTACH_WAIT_SINK = 2;
  localparam S_ATTACH_WAIT_SOURCE = 3;
  localparam S_ATTACHED_SINK = 4;
  localparam S_ATTACHED_SOURCE = 5;
  localparam S_ATTACHED_SOURCE_ACTIVE_CABLE = 6;
  localparam S_SWAPPED_SOURCE = 7;
  localparam S_DETACH_WAIT_SOURCE = 8;
  localparam S_DISCHARGING = 9;
  localparam S_TRY_SOURCE = 10;
  localparam S_TRY_SOURCE_DEBOUNCE = 11;
  localparam S_TRY_WAIT_SINK = 12;
  localparam S_TRY_WAIT_SINK_DEBOUNCE = 13;
  localparam S_AUDIO_WAIT = 14;
  localparam S_AUDIO_ATTACHED = 15;
  localparam S_ERROR_RECOVERY = 16;
  localparam S_DISABLED = 17;

  reg entered;
  reg left;
  wire busy = event_source_seen | event_sink_seen | event_audio_seen | event_nothing_seen | event_vbus_lost |
      event_vbus_safe | event_role_swapped_to_source | event_role_swapped_to_sink | event_fault | event_disable |
      event_enable;
  wire expired_toggle_sink = event_toggle_sink_timeout & run_toggle_sink;
  wire take_toggle_sink_timeout = expired_toggle_sink & ~busy;
  wire expired_toggle_source = event_toggle_source_timeout & run_toggle_source;
  wire take_toggle_source_timeout = expired_toggle_source & ~busy & ~expired_toggle_sink;
  wire expired_debounce = event_debounce_timeout & run_debounce;
  wire take_debounce_timeout = expired_debounce & ~busy & ~expired_toggle_sink & ~expired_toggle_source;
  wire expired_detach_debounce = event_detach_debounce_timeout & run_detach_debounce;
  wire take_detach_debounce_timeout = expired_detach_debounce & ~busy & ~expired_toggle_sink &
      ~expired_toggle_source & ~expired_debounce;
  wire expired_try = event_try_timeout & run_try;
  wire take_try_timeout = expired_try & ~busy & ~expired_toggle_sink & ~expired_toggle_source & ~expired_debounce &
      ~expired_detach_debounce;
  wire expired_try_wait = event_try_wait_timeout & run_try_wait;
  wire take_try_wait_timeout = expired_try_wait & ~busy & ~expired_toggle_sink & ~expired_toggle_source &
      ~expired_debounce & ~expired_detach_debounce & ~expired_try;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_toggle_sink & ~expired_toggle_source &
      ~expired_debounce & ~expired_detach_debounce & ~expired_try & ~expired_try_wait;

  always @(posedge clk) begin
    left = 0;
    do_latch_orientation <= 0;
    do_report_sink <= 0;
    do_report_source <= 0;
    do_report_detach <= 0;
    if (entered) case (state)
      S_ATTACHED_SINK: begin
        do_latch_orientation <= 1;
        do_report_sink <= 1;
      end
      S_ATTACHED_SOURCE: begin
        do_latch_orientation <= 1;
        do_report_source <= 1;
      end
      S_SWAPPED_SOURCE: begin
        do_report_source <= 1;
      end
      default: ;
    endcase
    case (state)
      S_UNATTACHED_SINK:
        (* parallel_case *) case (1'b1)
          event_source_seen: begin
             begin
              state <= S_ATTACH_WAIT_SINK; left = 1;
            end
          end
          take_toggle_sink_timeout: begin
             begin
              state <= S_UNATTACHED_SOURCE; left = 1;
            end
          end
          default: ;
        endcase
      S_UNATTACHED_SOURCE:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
             begin
              state <= S_ATTACH_WAIT_SOURCE; left = 1;
            end
          end
          event_audio_seen: begin
             begin
              state <= S_AUDIO_WAIT; left = 1;
            end
          end
          take_toggle_source_timeout: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACH_WAIT_SINK:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED_SOURCE; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_present && is_prefers_source) begin
              state <= S_TRY_SOURCE; left = 1;
            end
            else if (is_vbus_present && !is_prefers_source) begin
              state <= S_ATTACHED_SINK; left = 1;
            end
            else if (!is_vbus_present) begin
              state <= S_ATTACH_WAIT_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACH_WAIT_SOURCE:
        (* parallel_case *) case (1'b1)
          event_audio_seen: begin
             begin
              state <= S_AUDIO_WAIT; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_is_zero) begin
              state <= S_ATTACHED_SOURCE; left = 1;
            end
            else if (!is_vbus_is_zero) begin
              state <= S_ATTACH_WAIT_SOURCE; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED_SINK:
        (* parallel_case *) case (1'b1)
          event_vbus_lost: begin
             begin
              do_report_detach <= 1;
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          event_role_swapped_to_source: begin
             begin
              state <= S_SWAPPED_SOURCE; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED_SOURCE:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
            if (is_cable_is_active) begin
              state <= S_ATTACHED_SOURCE_ACTIVE_CABLE; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT_SOURCE; left = 1;
            end
          end
          event_role_swapped_to_sink: begin
             begin
              state <= S_ATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED_SOURCE_ACTIVE_CABLE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT_SOURCE; left = 1;
            end
          end
          event_role_swapped_to_sink: begin
             begin
              state <= S_ATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_SWAPPED_SOURCE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT_SOURCE; left = 1;
            end
          end
          event_role_swapped_to_sink: begin
             begin
              state <= S_ATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_DETACH_WAIT_SOURCE:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
             begin
              state <= S_ATTACHED_SOURCE; left = 1;
            end
          end
          take_detach_debounce_timeout: begin
             begin
              do_report_detach <= 1;
              state <= S_DISCHARGING; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCHARGING:
        (* parallel_case *) case (1'b1)
          event_vbus_safe: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_TRY_SOURCE:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
             begin
              state <= S_TRY_SOURCE_DEBOUNCE; left = 1;
            end
          end
          take_try_timeout: begin
             begin
              state <= S_TRY_WAIT_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_TRY_SOURCE_DEBOUNCE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_TRY_SOURCE; left = 1;
            end
          end
          take_detach_debounce_timeout: begin
             begin
              state <= S_ATTACHED_SOURCE; left = 1;
            end
          end
          default: ;
        endcase
      S_TRY_WAIT_SINK:
        (* parallel_case *) case (1'b1)
          event_source_seen: begin
             begin
              state <= S_TRY_WAIT_SINK_DEBOUNCE; left = 1;
            end
          end
          take_try_wait_timeout: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_TRY_WAIT_SINK_DEBOUNCE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_TRY_WAIT_SINK; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_present) begin
              state <= S_ATTACHED_SINK; left = 1;
            end
            else if (!is_vbus_present) begin
              state <= S_TRY_WAIT_SINK_DEBOUNCE; left = 1;
            end
          end
          default: ;
        endcase
      S_AUDIO_WAIT:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
             begin
              state <= S_ATTACH_WAIT_SOURCE; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          take_debounce_timeout: begin
             begin
              state <= S_AUDIO_ATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      S_AUDIO_ATTACHED:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_ERROR_RECOVERY:
        (* parallel_case *) case (1'b1)
          take_recovery_timeout: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_DISABLED:
        (* parallel_case *) case (1'b1)
          event_enable: begin
             begin
              state <= S_UNATTACHED_SINK; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_fault: if (state != S_ERROR_RECOVERY && state != S_DISABLED) begin
         begin
          state <= S_ERROR_RECOVERY; left = 1;
        end
      end
      event_disable: if (state != S_DISABLED) begin
         begin
          state <= S_DISABLED; left = 1;
        end
      end
      default: ;
    endcase
    entered <= left;
    set_pull_up <= state == S_UNATTACHED_SOURCE || state == S_ATTACH_WAIT_SOURCE || state == S_ATTACHED_SOURCE ||
        state == S_ATTACHED_SOURCE_ACTIVE_CABLE || state == S_SWAPPED_SOURCE || state == S_DETACH_WAIT_SOURCE ||
        state == S_TRY_SOURCE || state == S_TRY_SOURCE_DEBOUNCE || state == S_AUDIO_WAIT || state ==
        S_AUDIO_ATTACHED;
    set_pull_down <= state == S_UNATTACHED_SINK || state == S_ATTACH_WAIT_SINK || state == S_ATTACHED_SINK || state
        == S_TRY_WAIT_SINK || state == S_TRY_WAIT_SINK_DEBOUNCE;
    set_power_path <= state == S_ATTACHED_SINK;
    set_vbus_switch <= state == S_ATTACHED_SOURCE || state == S_ATTACHED_SOURCE_ACTIVE_CABLE || state ==
        S_SWAPPED_SOURCE || state == S_DETACH_WAIT_SOURCE;
    set_vconn_switch <= state == S_ATTACHED_SOURCE_ACTIVE_CABLE;
    set_discharge_vbus <= state == S_DISCHARGING || state == S_ERROR_RECOVERY || state == S_DISABLED;
    set_audio_access <= state == S_AUDIO_ATTACHED;
    run_toggle_sink <= (state == S_UNATTACHED_SINK) & ~left;
    run_toggle_source <= (state == S_UNATTACHED_SOURCE) & ~left;
    run_debounce <= (state == S_ATTACH_WAIT_SINK || state == S_ATTACH_WAIT_SOURCE || state ==
        S_TRY_WAIT_SINK_DEBOUNCE || state == S_AUDIO_WAIT) & ~left;
    run_detach_debounce <= (state == S_DETACH_WAIT_SOURCE || state == S_TRY_SOURCE_DEBOUNCE) & ~left;
    run_try <= (state == S_TRY_SOURCE) & ~left;
    run_try_wait <= (state == S_TRY_WAIT_SINK) & ~left;
    run_recovery <= (state == S_ERROR_RECOVERY) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_latch_orientation <= 0;
      do_report_sink <= 0;
      do_report_source <= 0;
      do_report_detach <= 0;
      set_pull_up <= 0;
      set_pull_down <= 1;
      set_power_path <= 0;
      set_vbus_switch <= 0;
      set_vconn_switch <= 0;
      set_discharge_vbus <= 0;
      set_audio_access <= 0;
      run_toggle_sink <= 0;
      run_toggle_source <= 0;
      run_debounce <= 0;
      run_detach_debounce <= 0;
      run_try <= 0;
      run_try_wait <= 0;
      run_recovery <= 0;
    end
  end
endmodule

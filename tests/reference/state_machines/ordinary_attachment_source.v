// The state table catalog/state-machines/attachment-source.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/attachment-source.toml style=ordinary" top=attachment_source
module attachment_source (
  input wire clk,
  input wire reset,
  input wire event_sink_seen,
  input wire event_two_sinks_seen,
  input wire event_audio_seen,
  input wire event_nothing_seen,
  input wire event_vbus_safe,
  input wire event_over_current,
  input wire event_disable,
  input wire event_enable,
  input wire event_debounce_timeout,
  input wire event_detach_debounce_timeout,
  input wire event_vbus_on_timeout,
  input wire event_discharge_timeout,
  input wire event_recovery_timeout,
  input wire is_vbus_is_zero,
  input wire is_cable_is_active,
  output reg [3:0] state,
  output reg do_latch_orientation,
  output reg do_report_attach,
  output reg do_report_detach,
  output reg do_report_fault,
  output reg set_pull_up,
  output reg set_vbus_switch,
  output reg set_vconn_switch,
  output reg set_discharge_vbus,
  output reg set_audio_access,
  output reg set_debug_access,
  output reg run_debounce,
  output reg run_detach_debounce,
  output reg run_vbus_on,
  output reg run_discharge,
  output reg run_recovery
);
  localparam S_UNATTACHED = 0;
  localparam S_ATTACH_WAIT = 1;
  localparam S_ATTACHED = 2;
  localparam S_ATTACHED_ACTIVE_CABLE = 3;
  localparam S_POWERED = 4;
  localparam S_POWERED_ACTIVE_CABLE = 5;
  localparam S_POWERED_DETACH_WAIT = 6;
  localparam S_DETACH_WAIT = 7;
  localparam S_DISCHARGING = 8;
  localparam S_AUDIO_WAIT = 9;
  localparam S_AUDIO_ATTACHED = 10;
  localparam S_DEBUG_WAIT = 11;
  localparam S_DEBUG_ATTACHED = 12;
  localparam S_ERROR_RECOVERY = 13;
  localparam S_DISABLED = 14;

  reg entered;
  reg left;
  wire busy = event_sink_seen | event_two_sinks_seen | event_audio_seen | event_nothing_seen | event_vbus_safe |
      event_over_current | event_disable | event_enable;
  wire expired_debounce = event_debounce_timeout & run_debounce;
  wire take_debounce_timeout = expired_debounce & ~busy;
  wire expired_detach_debounce = event_detach_debounce_timeout & run_detach_debounce;
  wire take_detach_debounce_timeout = expired_detach_debounce & ~busy & ~expired_debounce;
  wire expired_vbus_on = event_vbus_on_timeout & run_vbus_on;
  wire take_vbus_on_timeout = expired_vbus_on & ~busy & ~expired_debounce & ~expired_detach_debounce;
  wire expired_discharge = event_discharge_timeout & run_discharge;
  wire take_discharge_timeout = expired_discharge & ~busy & ~expired_debounce & ~expired_detach_debounce &
      ~expired_vbus_on;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_debounce & ~expired_detach_debounce &
      ~expired_vbus_on & ~expired_discharge;

  always @(posedge clk) begin
    left = 0;
    do_latch_orientation <= 0;
    do_report_attach <= 0;
    do_report_detach <= 0;
    do_report_fault <= 0;
    if (entered) case (state)
      S_ATTACHED: begin
        do_latch_orientation <= 1;
      end
      S_ATTACHED_ACTIVE_CABLE: begin
        do_latch_orientation <= 1;
      end
      S_POWERED: begin
        do_report_attach <= 1;
      end
      S_POWERED_ACTIVE_CABLE: begin
        do_report_attach <= 1;
      end
      S_DEBUG_ATTACHED: begin
        do_report_attach <= 1;
      end
      default: ;
    endcase
    case (state)
      S_UNATTACHED:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
             begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          event_two_sinks_seen: begin
             begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          event_audio_seen: begin
             begin
              state <= S_AUDIO_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACH_WAIT:
        (* parallel_case *) case (1'b1)
          event_two_sinks_seen: begin
             begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          event_audio_seen: begin
             begin
              state <= S_AUDIO_WAIT; left = 1;
            end
          end
          event_nothing_seen: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          take_debounce_timeout: begin
            if (is_vbus_is_zero && is_cable_is_active) begin
              state <= S_ATTACHED_ACTIVE_CABLE; left = 1;
            end
            else if (is_vbus_is_zero && !is_cable_is_active) begin
              state <= S_ATTACHED; left = 1;
            end
            else if (!is_vbus_is_zero) begin
              state <= S_ATTACH_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT; left = 1;
            end
          end
          take_vbus_on_timeout: begin
             begin
              state <= S_POWERED; left = 1;
            end
          end
          default: ;
        endcase
      S_ATTACHED_ACTIVE_CABLE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_DETACH_WAIT; left = 1;
            end
          end
          take_vbus_on_timeout: begin
             begin
              state <= S_POWERED_ACTIVE_CABLE; left = 1;
            end
          end
          default: ;
        endcase
      S_POWERED:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_POWERED_DETACH_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_POWERED_ACTIVE_CABLE:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              state <= S_POWERED_DETACH_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_POWERED_DETACH_WAIT:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
            if (is_cable_is_active) begin
              state <= S_POWERED_ACTIVE_CABLE; left = 1;
            end
            else if (!is_cable_is_active) begin
              state <= S_POWERED; left = 1;
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
      S_DETACH_WAIT:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
            if (is_cable_is_active) begin
              state <= S_ATTACHED_ACTIVE_CABLE; left = 1;
            end
            else if (!is_cable_is_active) begin
              state <= S_ATTACHED; left = 1;
            end
          end
          take_detach_debounce_timeout: begin
             begin
              state <= S_DISCHARGING; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCHARGING:
        (* parallel_case *) case (1'b1)
          event_vbus_safe: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          take_discharge_timeout: begin
             begin
              do_report_fault <= 1;
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_AUDIO_WAIT:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
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
              state <= S_UNATTACHED; left = 1;
            end
          end
          default: ;
        endcase
      S_DEBUG_WAIT:
        (* parallel_case *) case (1'b1)
          event_sink_seen: begin
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
            if (is_vbus_is_zero) begin
              state <= S_DEBUG_ATTACHED; left = 1;
            end
            else if (!is_vbus_is_zero) begin
              state <= S_DEBUG_WAIT; left = 1;
            end
          end
          default: ;
        endcase
      S_DEBUG_ATTACHED:
        (* parallel_case *) case (1'b1)
          event_nothing_seen: begin
             begin
              do_report_detach <= 1;
              state <= S_DISCHARGING; left = 1;
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
      event_over_current: if (state != S_UNATTACHED && state != S_ERROR_RECOVERY && state != S_DISABLED) begin
         begin
          do_report_fault <= 1;
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
    set_pull_up <= state == S_UNATTACHED || state == S_ATTACH_WAIT || state == S_ATTACHED || state ==
        S_ATTACHED_ACTIVE_CABLE || state == S_POWERED || state == S_POWERED_ACTIVE_CABLE || state ==
        S_POWERED_DETACH_WAIT || state == S_DETACH_WAIT || state == S_AUDIO_WAIT || state == S_AUDIO_ATTACHED ||
        state == S_DEBUG_WAIT || state == S_DEBUG_ATTACHED;
    set_vbus_switch <= state == S_ATTACHED || state == S_ATTACHED_ACTIVE_CABLE || state == S_POWERED || state ==
        S_POWERED_ACTIVE_CABLE || state == S_POWERED_DETACH_WAIT || state == S_DETACH_WAIT || state ==
        S_DEBUG_ATTACHED;
    set_vconn_switch <= state == S_ATTACHED_ACTIVE_CABLE || state == S_POWERED_ACTIVE_CABLE;
    set_discharge_vbus <= state == S_DISCHARGING || state == S_ERROR_RECOVERY || state == S_DISABLED;
    set_audio_access <= state == S_AUDIO_ATTACHED;
    set_debug_access <= state == S_DEBUG_ATTACHED;
    run_debounce <= (state == S_ATTACH_WAIT || state == S_AUDIO_WAIT || state == S_DEBUG_WAIT) & ~left;
    run_detach_debounce <= (state == S_POWERED_DETACH_WAIT || state == S_DETACH_WAIT) & ~left;
    run_vbus_on <= (state == S_ATTACHED || state == S_ATTACHED_ACTIVE_CABLE) & ~left;
    run_discharge <= (state == S_DISCHARGING) & ~left;
    run_recovery <= (state == S_ERROR_RECOVERY) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_latch_orientation <= 0;
      do_report_attach <= 0;
      do_report_detach <= 0;
      do_report_fault <= 0;
      set_pull_up <= 1;
      set_vbus_switch <= 0;
      set_vconn_switch <= 0;
      set_discharge_vbus <= 0;
      set_audio_access <= 0;
      set_debug_access <= 0;
      run_debounce <= 0;
      run_detach_debounce <= 0;
      run_vbus_on <= 0;
      run_discharge <= 0;
      run_recovery <= 0;
    end
  end
endmodule

// The state table catalog/state-machines/attachment-source.toml as a designer would write it out: one-hot states, one product
// term for what several states do alike, registered outputs. At most one event is high in a clock; the event of a
// timer is a level that is looked at while the timer runs and no other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/attachment-source.toml style=factored" top=attachment_source
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
    output reg [14:0] state,
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
  wire busy = event_sink_seen | event_two_sinks_seen | event_audio_seen | event_nothing_seen |
      event_vbus_safe | event_over_current | event_disable | event_enable;
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

  wire fire_0 = (state[S_UNATTACHED] | state[S_AUDIO_WAIT] | state[S_DEBUG_WAIT]) & event_sink_seen;
  wire fire_1 = (state[S_UNATTACHED] | state[S_ATTACH_WAIT]) & event_two_sinks_seen;
  wire fire_2 = (state[S_UNATTACHED] | state[S_ATTACH_WAIT]) & event_audio_seen;
  wire fire_3 = ~(state[S_DISABLED]) & event_disable;
  wire fire_4 = (state[S_ATTACH_WAIT] | state[S_AUDIO_WAIT] | state[S_AUDIO_ATTACHED] | state[S_DEBUG_WAIT])
      & event_nothing_seen;
  wire fire_5 = ~(state[S_UNATTACHED] | state[S_ERROR_RECOVERY] | state[S_DISABLED]) & event_over_current;
  wire fire_6 = (state[S_ATTACH_WAIT]) & take_debounce_timeout & (is_vbus_is_zero & is_cable_is_active);
  wire fire_7 = (state[S_ATTACH_WAIT]) & take_debounce_timeout & (is_vbus_is_zero & ~is_cable_is_active);
  wire fire_8 = (state[S_ATTACH_WAIT]) & take_debounce_timeout & (~is_vbus_is_zero);
  wire fire_9 = (state[S_ATTACHED] | state[S_ATTACHED_ACTIVE_CABLE]) & event_nothing_seen;
  wire fire_10 = (state[S_ATTACHED]) & take_vbus_on_timeout;
  wire fire_11 = (state[S_ATTACHED_ACTIVE_CABLE]) & take_vbus_on_timeout;
  wire fire_12 = (state[S_POWERED] | state[S_POWERED_ACTIVE_CABLE]) & event_nothing_seen;
  wire fire_13 = (state[S_POWERED_DETACH_WAIT]) & event_sink_seen & (is_cable_is_active);
  wire fire_14 = (state[S_POWERED_DETACH_WAIT]) & event_sink_seen & (~is_cable_is_active);
  wire fire_15 = (state[S_POWERED_DETACH_WAIT]) & take_detach_debounce_timeout;
  wire fire_16 = (state[S_DETACH_WAIT]) & event_sink_seen & (is_cable_is_active);
  wire fire_17 = (state[S_DETACH_WAIT]) & event_sink_seen & (~is_cable_is_active);
  wire fire_18 = (state[S_DETACH_WAIT]) & take_detach_debounce_timeout;
  wire fire_19 = (state[S_DISCHARGING]) & event_vbus_safe;
  wire fire_20 = (state[S_DISCHARGING]) & take_discharge_timeout;
  wire fire_21 = (state[S_AUDIO_WAIT]) & take_debounce_timeout;
  wire fire_22 = (state[S_DEBUG_WAIT]) & take_debounce_timeout & (is_vbus_is_zero);
  wire fire_23 = (state[S_DEBUG_WAIT]) & take_debounce_timeout & (~is_vbus_is_zero);
  wire fire_24 = (state[S_DEBUG_ATTACHED]) & event_nothing_seen;
  wire fire_25 = (state[S_ERROR_RECOVERY]) & take_recovery_timeout;
  wire fire_26 = (state[S_DISABLED]) & event_enable;
  wire left = fire_0 | fire_1 | fire_2 | fire_3 | fire_4 | fire_5 | fire_6 | fire_7 | fire_8 | fire_9 |
      fire_10 | fire_11 | fire_12 | fire_13 | fire_14 | fire_15 | fire_16 | fire_17 | fire_18 | fire_19 |
      fire_20 | fire_21 | fire_22 | fire_23 | fire_24 | fire_25 | fire_26;


  always @(posedge clk)
    if (reset) begin
      state <= 1;
      entered <= 1;
      run_debounce <= 0;
      run_detach_debounce <= 0;
      run_vbus_on <= 0;
      run_discharge <= 0;
      run_recovery <= 0;
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
    end else begin
      if (left) begin
        state[S_UNATTACHED] <= fire_4 | fire_19 | fire_25 | fire_26;
        state[S_ATTACH_WAIT] <= fire_0 | fire_8;
        state[S_ATTACHED] <= fire_7 | fire_17;
        state[S_ATTACHED_ACTIVE_CABLE] <= fire_6 | fire_16;
        state[S_POWERED] <= fire_10 | fire_14;
        state[S_POWERED_ACTIVE_CABLE] <= fire_11 | fire_13;
        state[S_POWERED_DETACH_WAIT] <= fire_12;
        state[S_DETACH_WAIT] <= fire_9;
        state[S_DISCHARGING] <= fire_15 | fire_18 | fire_24;
        state[S_AUDIO_WAIT] <= fire_2;
        state[S_AUDIO_ATTACHED] <= fire_21;
        state[S_DEBUG_WAIT] <= fire_1 | fire_23;
        state[S_DEBUG_ATTACHED] <= fire_22;
        state[S_ERROR_RECOVERY] <= fire_5 | fire_20;
        state[S_DISABLED] <= fire_3;
      end
      entered <= left;
      run_debounce <= (state[S_ATTACH_WAIT] | state[S_AUDIO_WAIT] | state[S_DEBUG_WAIT]) & ~left;
      run_detach_debounce <= (state[S_POWERED_DETACH_WAIT] | state[S_DETACH_WAIT]) & ~left;
      run_vbus_on <= (state[S_ATTACHED] | state[S_ATTACHED_ACTIVE_CABLE]) & ~left;
      run_discharge <= (state[S_DISCHARGING]) & ~left;
      run_recovery <= (state[S_ERROR_RECOVERY]) & ~left;
      do_latch_orientation <= (entered & (state[S_ATTACHED] | state[S_ATTACHED_ACTIVE_CABLE]));
      do_report_attach <= (entered & (state[S_POWERED] | state[S_POWERED_ACTIVE_CABLE] |
          state[S_DEBUG_ATTACHED]));
      do_report_detach <= fire_15 | fire_24;
      do_report_fault <= fire_5 | fire_20;
      set_pull_up <= ~(state[S_DISCHARGING] | state[S_ERROR_RECOVERY] | state[S_DISABLED]);
      set_vbus_switch <= (state[S_ATTACHED] | state[S_ATTACHED_ACTIVE_CABLE] | state[S_POWERED] |
          state[S_POWERED_ACTIVE_CABLE] | state[S_POWERED_DETACH_WAIT] | state[S_DETACH_WAIT] |
          state[S_DEBUG_ATTACHED]);
      set_vconn_switch <= (state[S_ATTACHED_ACTIVE_CABLE] | state[S_POWERED_ACTIVE_CABLE]);
      set_discharge_vbus <= (state[S_DISCHARGING] | state[S_ERROR_RECOVERY] | state[S_DISABLED]);
      set_audio_access <= (state[S_AUDIO_ATTACHED]);
      set_debug_access <= (state[S_DEBUG_ATTACHED]);
    end
endmodule

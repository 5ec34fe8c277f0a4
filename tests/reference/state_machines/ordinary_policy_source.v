// The state table catalog/state-machines/policy-source.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/policy-source.toml style=ordinary" top=policy_source
module policy_source (
  input wire clk,
  input wire reset,
  input wire event_attached,
  input wire event_detached,
  input wire event_request,
  input wire event_accept,
  input wire event_reject,
  input wire event_wait,
  input wire event_supply_ready,
  input wire event_sink_capabilities,
  input wire event_get_source_capabilities,
  input wire event_get_sink_capabilities,
  input wire event_data_role_swap,
  input wire event_power_role_swap,
  input wire event_vconn_swap,
  input wire event_test_mode,
  input wire event_vendor_message,
  input wire event_not_supported,
  input wire event_unknown_message,
  input wire event_soft_reset,
  input wire event_hard_reset_seen,
  input wire event_message_sent,
  input wire event_message_failed,
  input wire event_message_dropped,
  input wire event_can_meet,
  input wire event_can_meet_later,
  input wire event_cannot_meet,
  input wire event_supply_is_ready,
  input wire event_supply_is_off,
  input wire event_at_default,
  input wire event_offers_changed,
  input wire event_sink_wanted,
  input wire event_swap_wanted,
  input wire event_allowed,
  input wire event_refused,
  input wire event_vconn_is_on,
  input wire event_sender_response_timeout,
  input wire event_send_capabilities_again_timeout,
  input wire event_no_response_timeout,
  input wire event_hard_reset_hold_timeout,
  input wire event_source_transition_timeout,
  input wire event_sink_on_timeout,
  input wire event_vconn_on_timeout,
  input wire event_cable_response_timeout,
  input wire event_test_carrier_timeout,
  input wire event_recovery_timeout,
  input wire is_has_contract,
  input wire is_contract_still_fits,
  input wire is_supplies_cable,
  input wire is_cable_asked,
  output reg [5:0] state,
  output reg do_evaluate_request,
  output reg do_evaluate_swap,
  output reg do_send_capabilities,
  output reg do_send_accept,
  output reg do_send_reject,
  output reg do_send_wait,
  output reg do_send_supply_ready,
  output reg do_send_get_sink_capabilities,
  output reg do_send_sink_capabilities,
  output reg do_send_not_supported,
  output reg do_send_data_role_swap,
  output reg do_send_soft_reset,
  output reg do_send_hard_reset,
  output reg do_send_cable_identity,
  output reg do_reset_message_layer,
  output reg do_move_supply,
  output reg do_turn_off_supply,
  output reg do_go_to_default,
  output reg do_swap_data_role,
  output reg do_supply_cable,
  output reg do_drop_cable,
  output reg do_become_sink,
  output reg do_keep_cable_identity,
  output reg do_keep_sink_needs,
  output reg do_send_test_carrier,
  output reg do_forward_vendor_message,
  output reg do_report_contract,
  output reg do_report_no_partner,
  output reg do_report_refusal,
  output reg set_receive_enabled,
  output reg set_sink_may_start,
  output reg run_sender_response,
  output reg run_send_capabilities_again,
  output reg run_no_response,
  output reg run_hard_reset_hold,
  output reg run_source_transition,
  output reg run_sink_on,
  output reg run_vconn_on,
  output reg run_cable_response,
  output reg run_test_carrier,
  output reg run_recovery
);
  localparam S_UNATTACHED = 0;
  localparam S_STARTUP = 1;
  localparam S_ASK_CABLE = 2;
  localparam S_DISCOVERY = 3;
  localparam S_SEND_CAPABILITIES = 4;
  localparam S_NEGOTIATE_CAPABILITY = 5;
  localparam S_ACCEPT_REQUEST = 6;
  localparam S_WAIT_FOR_SINK = 7;
  localparam S_TRANSITION_SUPPLY = 8;
  localparam S_REPORT_SUPPLY = 9;
  localparam S_DELAY_REQUEST = 10;
  localparam S_REFUSE_REQUEST = 11;
  localparam S_WAIT_FOR_NEW_OFFERS = 12;
  localparam S_READY = 13;
  localparam S_GET_SINK_CAPABILITIES = 14;
  localparam S_GIVE_SINK_CAPABILITIES = 15;
  localparam S_SEND_NOT_SUPPORTED = 16;
  localparam S_SEND_SOFT_RESET = 17;
  localparam S_ACCEPT_SOFT_RESET = 18;
  localparam S_HARD_RESET = 19;
  localparam S_HARD_RESET_RECEIVED = 20;
  localparam S_TRANSITION_TO_DEFAULT = 21;
  localparam S_NO_PARTNER = 22;
  localparam S_EVALUATE_DATA_ROLE_SWAP = 23;
  localparam S_ACCEPT_DATA_ROLE_SWAP = 24;
  localparam S_ASK_DATA_ROLE_SWAP = 25;
  localparam S_REJECT_SWAP = 26;
  localparam S_EVALUATE_VCONN_SWAP = 27;
  localparam S_ACCEPT_VCONN_SWAP = 28;
  localparam S_WAIT_FOR_VCONN = 29;
  localparam S_TURN_ON_VCONN = 30;
  localparam S_REPORT_VCONN = 31;
  localparam S_EVALUATE_POWER_ROLE_SWAP = 32;
  localparam S_ACCEPT_POWER_ROLE_SWAP = 33;
  localparam S_WAIT_BEFORE_OFF = 34;
  localparam S_TURN_OFF = 35;
  localparam S_REPORT_OFF = 36;
  localparam S_WAIT_FOR_NEW_SOURCE = 37;
  localparam S_TEST_CARRIER_MODE = 38;
  localparam S_ERROR_RECOVERY = 39;

  reg [1:0] count_hard_reset;
  wire is_hard_resets_exhausted = count_hard_reset == 2;
  reg [5:0] count_capabilities;
  wire is_offers_exhausted = count_capabilities == 50;
  reg [4:0] count_cable;
  wire is_cable_attempts_exhausted = count_cable == 20;
  reg armed_sender_response, start_sender_response, stop_sender_response;
  reg armed_no_response, start_no_response, stop_no_response;
  reg entered;
  reg left;
  wire busy = event_attached | event_detached | event_request | event_accept | event_reject | event_wait |
      event_supply_ready | event_sink_capabilities | event_get_source_capabilities | event_get_sink_capabilities |
      event_data_role_swap | event_power_role_swap | event_vconn_swap | event_test_mode | event_vendor_message |
      event_not_supported | event_unknown_message | event_soft_reset | event_hard_reset_seen | event_message_sent |
      event_message_failed | event_message_dropped | event_can_meet | event_can_meet_later | event_cannot_meet |
      event_supply_is_ready | event_supply_is_off | event_at_default | event_offers_changed | event_sink_wanted |
      event_swap_wanted | event_allowed | event_refused | event_vconn_is_on;
  wire expired_sender_response = event_sender_response_timeout & run_sender_response;
  wire take_sender_response_timeout = expired_sender_response & ~busy;
  wire expired_send_capabilities_again = event_send_capabilities_again_timeout & run_send_capabilities_again;
  wire take_send_capabilities_again_timeout = expired_send_capabilities_again & ~busy & ~expired_sender_response;
  wire expired_no_response = event_no_response_timeout & run_no_response;
  wire take_no_response_timeout = expired_no_response & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again;
  wire expired_hard_reset_hold = event_hard_reset_hold_timeout & run_hard_reset_hold;
  wire take_hard_reset_hold_timeout = expired_hard_reset_hold & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response;
  wire expired_source_transition = event_source_transition_timeout & run_source_transition;
  wire take_source_transition_timeout = expired_source_transition & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response & ~expired_hard_reset_hold;
  wire expired_sink_on = event_sink_on_timeout & run_sink_on;
  wire take_sink_on_timeout = expired_sink_on & ~busy & ~expired_sender_response & ~expired_send_capabilities_again
      & ~expired_no_response & ~expired_hard_reset_hold & ~expired_source_transition;
  wire expired_vconn_on = event_vconn_on_timeout & run_vconn_on;
  wire take_vconn_on_timeout = expired_vconn_on & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response & ~expired_hard_reset_hold &
      ~expired_source_transition & ~expired_sink_on;
  wire expired_cable_response = event_cable_response_timeout & run_cable_response;
  wire take_cable_response_timeout = expired_cable_response & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response & ~expired_hard_reset_hold &
      ~expired_source_transition & ~expired_sink_on & ~expired_vconn_on;
  wire expired_test_carrier = event_test_carrier_timeout & run_test_carrier;
  wire take_test_carrier_timeout = expired_test_carrier & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response & ~expired_hard_reset_hold &
      ~expired_source_transition & ~expired_sink_on & ~expired_vconn_on & ~expired_cable_response;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_sender_response &
      ~expired_send_capabilities_again & ~expired_no_response & ~expired_hard_reset_hold &
      ~expired_source_transition & ~expired_sink_on & ~expired_vconn_on & ~expired_cable_response &
      ~expired_test_carrier;

  always @(posedge clk) begin
    left = 0;
    start_sender_response = 0; stop_sender_response = 0;
    start_no_response = 0; stop_no_response = 0;
    do_evaluate_request <= 0;
    do_evaluate_swap <= 0;
    do_send_capabilities <= 0;
    do_send_accept <= 0;
    do_send_reject <= 0;
    do_send_wait <= 0;
    do_send_supply_ready <= 0;
    do_send_get_sink_capabilities <= 0;
    do_send_sink_capabilities <= 0;
    do_send_not_supported <= 0;
    do_send_data_role_swap <= 0;
    do_send_soft_reset <= 0;
    do_send_hard_reset <= 0;
    do_send_cable_identity <= 0;
    do_reset_message_layer <= 0;
    do_move_supply <= 0;
    do_turn_off_supply <= 0;
    do_go_to_default <= 0;
    do_swap_data_role <= 0;
    do_supply_cable <= 0;
    do_drop_cable <= 0;
    do_become_sink <= 0;
    do_keep_cable_identity <= 0;
    do_keep_sink_needs <= 0;
    do_send_test_carrier <= 0;
    do_forward_vendor_message <= 0;
    do_report_contract <= 0;
    do_report_no_partner <= 0;
    do_report_refusal <= 0;
    if (entered) case (state)
      S_UNATTACHED: begin
        count_hard_reset <= 0;
        count_capabilities <= 0;
        count_cable <= 0;
      end
      S_ASK_CABLE: begin
        if (!is_cable_attempts_exhausted) count_cable <= count_cable + 1;
        do_send_cable_identity <= 1;
      end
      S_SEND_CAPABILITIES: begin
        if (!is_offers_exhausted) count_capabilities <= count_capabilities + 1;
        do_send_capabilities <= 1;
      end
      S_NEGOTIATE_CAPABILITY: begin
        do_evaluate_request <= 1;
      end
      S_ACCEPT_REQUEST: begin
        do_send_accept <= 1;
      end
      S_TRANSITION_SUPPLY: begin
        do_move_supply <= 1;
      end
      S_REPORT_SUPPLY: begin
        do_send_supply_ready <= 1;
      end
      S_DELAY_REQUEST: begin
        do_send_wait <= 1;
      end
      S_REFUSE_REQUEST: begin
        do_send_reject <= 1;
      end
      S_GET_SINK_CAPABILITIES: begin
        do_send_get_sink_capabilities <= 1;
      end
      S_GIVE_SINK_CAPABILITIES: begin
        do_send_sink_capabilities <= 1;
      end
      S_SEND_NOT_SUPPORTED: begin
        do_send_not_supported <= 1;
      end
      S_SEND_SOFT_RESET: begin
        do_reset_message_layer <= 1;
        do_send_soft_reset <= 1;
      end
      S_ACCEPT_SOFT_RESET: begin
        do_reset_message_layer <= 1;
        do_send_accept <= 1;
      end
      S_HARD_RESET: begin
        if (!is_hard_resets_exhausted) count_hard_reset <= count_hard_reset + 1;
        do_send_hard_reset <= 1;
        start_no_response = 1;
      end
      S_HARD_RESET_RECEIVED: begin
        start_no_response = 1;
      end
      S_TRANSITION_TO_DEFAULT: begin
        do_go_to_default <= 1;
        do_reset_message_layer <= 1;
      end
      S_NO_PARTNER: begin
        do_report_no_partner <= 1;
      end
      S_EVALUATE_DATA_ROLE_SWAP: begin
        do_evaluate_swap <= 1;
      end
      S_ACCEPT_DATA_ROLE_SWAP: begin
        do_send_accept <= 1;
      end
      S_ASK_DATA_ROLE_SWAP: begin
        do_send_data_role_swap <= 1;
      end
      S_REJECT_SWAP: begin
        do_send_reject <= 1;
      end
      S_EVALUATE_VCONN_SWAP: begin
        do_evaluate_swap <= 1;
      end
      S_ACCEPT_VCONN_SWAP: begin
        do_send_accept <= 1;
      end
      S_TURN_ON_VCONN: begin
        do_supply_cable <= 1;
      end
      S_REPORT_VCONN: begin
        do_send_supply_ready <= 1;
      end
      S_EVALUATE_POWER_ROLE_SWAP: begin
        do_evaluate_swap <= 1;
      end
      S_ACCEPT_POWER_ROLE_SWAP: begin
        do_send_accept <= 1;
      end
      S_TURN_OFF: begin
        do_turn_off_supply <= 1;
      end
      S_REPORT_OFF: begin
        do_send_supply_ready <= 1;
      end
      S_TEST_CARRIER_MODE: begin
        do_send_test_carrier <= 1;
      end
      S_ERROR_RECOVERY: begin
        do_go_to_default <= 1;
      end
      default: ;
    endcase
    case (state)
      S_UNATTACHED:
        (* parallel_case *) case (1'b1)
          event_attached: begin
             begin
              do_reset_message_layer <= 1;
              state <= S_STARTUP; left = 1;
            end
          end
          default: ;
        endcase
      S_STARTUP:
        (* parallel_case *) case (1'b1)
          take_send_capabilities_again_timeout: begin
            if (is_cable_asked) begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
            else if (!is_cable_asked && !is_cable_attempts_exhausted) begin
              state <= S_ASK_CABLE; left = 1;
            end
            else if (!is_cable_asked && is_cable_attempts_exhausted) begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          default: ;
        endcase
      S_ASK_CABLE:
        (* parallel_case *) case (1'b1)
          event_vendor_message: begin
             begin
              do_keep_cable_identity <= 1;
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_STARTUP; left = 1;
            end
          end
          take_cable_response_timeout: begin
             begin
              state <= S_STARTUP; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCOVERY:
        (* parallel_case *) case (1'b1)
          take_send_capabilities_again_timeout: begin
            if (!is_offers_exhausted) begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
            else if (is_offers_exhausted) begin
              stop_no_response = 1;
              state <= S_NO_PARTNER; left = 1;
            end
          end
          take_no_response_timeout: begin
            if (is_hard_resets_exhausted) begin
              state <= S_NO_PARTNER; left = 1;
            end
            else if (!is_hard_resets_exhausted) begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_SEND_CAPABILITIES:
        (* parallel_case *) case (1'b1)
          event_request: begin
             begin
              state <= S_NEGOTIATE_CAPABILITY; left = 1;
            end
          end
          event_message_sent: begin
             begin
              count_hard_reset <= 0;
              count_capabilities <= 0;
              stop_no_response = 1;
              start_sender_response = 1;
            end
          end
          event_message_failed: begin
            if (is_has_contract) begin
              state <= S_SEND_SOFT_RESET; left = 1;
            end
            else if (!is_has_contract) begin
              state <= S_DISCOVERY; left = 1;
            end
          end
          take_sender_response_timeout: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_NEGOTIATE_CAPABILITY:
        (* parallel_case *) case (1'b1)
          event_can_meet: begin
             begin
              state <= S_ACCEPT_REQUEST; left = 1;
            end
          end
          event_can_meet_later: begin
             begin
              state <= S_DELAY_REQUEST; left = 1;
            end
          end
          event_cannot_meet: begin
             begin
              state <= S_REFUSE_REQUEST; left = 1;
            end
          end
          default: ;
        endcase
      S_ACCEPT_REQUEST:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_WAIT_FOR_SINK; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_SINK:
        (* parallel_case *) case (1'b1)
          event_request: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_accept: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_reject: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_wait: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_supply_ready: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_sink_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_get_source_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_get_sink_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_data_role_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_power_role_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_vconn_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_test_mode: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_vendor_message: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_not_supported: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_unknown_message: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          take_source_transition_timeout: begin
             begin
              state <= S_TRANSITION_SUPPLY; left = 1;
            end
          end
          default: ;
        endcase
      S_TRANSITION_SUPPLY:
        (* parallel_case *) case (1'b1)
          event_request: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_accept: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_reject: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_wait: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_supply_ready: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_sink_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_get_source_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_get_sink_capabilities: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_data_role_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_power_role_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_vconn_swap: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_test_mode: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_vendor_message: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_not_supported: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_unknown_message: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          event_supply_is_ready: begin
             begin
              state <= S_REPORT_SUPPLY; left = 1;
            end
          end
          default: ;
        endcase
      S_REPORT_SUPPLY:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              do_report_contract <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_DELAY_REQUEST:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
            if (is_has_contract) begin
              state <= S_READY; left = 1;
            end
            else if (!is_has_contract) begin
              state <= S_WAIT_FOR_NEW_OFFERS; left = 1;
            end
          end
          default: ;
        endcase
      S_REFUSE_REQUEST:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
            if (is_has_contract && is_contract_still_fits) begin
              state <= S_READY; left = 1;
            end
            else if (is_has_contract && !is_contract_still_fits) begin
              state <= S_HARD_RESET; left = 1;
            end
            else if (!is_has_contract) begin
              state <= S_WAIT_FOR_NEW_OFFERS; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_NEW_OFFERS:
        (* parallel_case *) case (1'b1)
          event_request: begin
             begin
              state <= S_NEGOTIATE_CAPABILITY; left = 1;
            end
          end
          event_offers_changed: begin
             begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          default: ;
        endcase
      S_READY:
        (* parallel_case *) case (1'b1)
          event_request: begin
             begin
              state <= S_NEGOTIATE_CAPABILITY; left = 1;
            end
          end
          event_get_source_capabilities: begin
             begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          event_get_sink_capabilities: begin
             begin
              state <= S_GIVE_SINK_CAPABILITIES; left = 1;
            end
          end
          event_data_role_swap: begin
             begin
              state <= S_EVALUATE_DATA_ROLE_SWAP; left = 1;
            end
          end
          event_power_role_swap: begin
             begin
              state <= S_EVALUATE_POWER_ROLE_SWAP; left = 1;
            end
          end
          event_vconn_swap: begin
             begin
              state <= S_EVALUATE_VCONN_SWAP; left = 1;
            end
          end
          event_test_mode: begin
             begin
              state <= S_TEST_CARRIER_MODE; left = 1;
            end
          end
          event_vendor_message: begin
             begin
              do_forward_vendor_message <= 1;
            end
          end
          event_unknown_message: begin
             begin
              state <= S_SEND_NOT_SUPPORTED; left = 1;
            end
          end
          event_offers_changed: begin
             begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          event_sink_wanted: begin
             begin
              state <= S_GET_SINK_CAPABILITIES; left = 1;
            end
          end
          event_swap_wanted: begin
             begin
              state <= S_ASK_DATA_ROLE_SWAP; left = 1;
            end
          end
          default: ;
        endcase
      S_GET_SINK_CAPABILITIES:
        (* parallel_case *) case (1'b1)
          event_sink_capabilities: begin
             begin
              do_keep_sink_needs <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_not_supported: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          event_message_sent: begin
             begin
              start_sender_response = 1;
            end
          end
          event_message_dropped: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          take_sender_response_timeout: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_GIVE_SINK_CAPABILITIES:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          event_message_dropped: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_SEND_NOT_SUPPORTED:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          event_message_dropped: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_SEND_SOFT_RESET:
        (* parallel_case *) case (1'b1)
          event_accept: begin
             begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          event_message_sent: begin
             begin
              start_sender_response = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          take_sender_response_timeout: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_ACCEPT_SOFT_RESET:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_SEND_CAPABILITIES; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_HARD_RESET:
        (* parallel_case *) case (1'b1)
          take_hard_reset_hold_timeout: begin
             begin
              state <= S_TRANSITION_TO_DEFAULT; left = 1;
            end
          end
          default: ;
        endcase
      S_HARD_RESET_RECEIVED:
        (* parallel_case *) case (1'b1)
          take_hard_reset_hold_timeout: begin
             begin
              state <= S_TRANSITION_TO_DEFAULT; left = 1;
            end
          end
          default: ;
        endcase
      S_TRANSITION_TO_DEFAULT:
        (* parallel_case *) case (1'b1)
          event_at_default: begin
             begin
              state <= S_STARTUP; left = 1;
            end
          end
          default: ;
        endcase
      S_EVALUATE_DATA_ROLE_SWAP:
        (* parallel_case *) case (1'b1)
          event_allowed: begin
             begin
              state <= S_ACCEPT_DATA_ROLE_SWAP; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_REJECT_SWAP; left = 1;
            end
          end
          default: ;
        endcase
      S_ACCEPT_DATA_ROLE_SWAP:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              do_swap_data_role <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_ASK_DATA_ROLE_SWAP:
        (* parallel_case *) case (1'b1)
          event_accept: begin
             begin
              do_swap_data_role <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_reject: begin
             begin
              do_report_refusal <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_wait: begin
             begin
              do_report_refusal <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_not_supported: begin
             begin
              do_report_refusal <= 1;
              state <= S_READY; left = 1;
            end
          end
          event_message_sent: begin
             begin
              start_sender_response = 1;
            end
          end
          event_message_dropped: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          take_sender_response_timeout: begin
             begin
              do_report_refusal <= 1;
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_REJECT_SWAP:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          event_message_dropped: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_EVALUATE_VCONN_SWAP:
        (* parallel_case *) case (1'b1)
          event_allowed: begin
             begin
              state <= S_ACCEPT_VCONN_SWAP; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_REJECT_SWAP; left = 1;
            end
          end
          default: ;
        endcase
      S_ACCEPT_VCONN_SWAP:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
            if (is_supplies_cable) begin
              state <= S_WAIT_FOR_VCONN; left = 1;
            end
            else if (!is_supplies_cable) begin
              state <= S_TURN_ON_VCONN; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_VCONN:
        (* parallel_case *) case (1'b1)
          event_supply_ready: begin
             begin
              do_drop_cable <= 1;
              state <= S_READY; left = 1;
            end
          end
          take_vconn_on_timeout: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_TURN_ON_VCONN:
        (* parallel_case *) case (1'b1)
          event_vconn_is_on: begin
             begin
              state <= S_REPORT_VCONN; left = 1;
            end
          end
          default: ;
        endcase
      S_REPORT_VCONN:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_READY; left = 1;
            end
          end
          default: ;
        endcase
      S_EVALUATE_POWER_ROLE_SWAP:
        (* parallel_case *) case (1'b1)
          event_allowed: begin
             begin
              state <= S_ACCEPT_POWER_ROLE_SWAP; left = 1;
            end
          end
          event_refused: begin
             begin
              state <= S_REJECT_SWAP; left = 1;
            end
          end
          default: ;
        endcase
      S_ACCEPT_POWER_ROLE_SWAP:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_WAIT_BEFORE_OFF; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_BEFORE_OFF:
        (* parallel_case *) case (1'b1)
          take_source_transition_timeout: begin
             begin
              state <= S_TURN_OFF; left = 1;
            end
          end
          default: ;
        endcase
      S_TURN_OFF:
        (* parallel_case *) case (1'b1)
          event_supply_is_off: begin
             begin
              do_become_sink <= 1;
              state <= S_REPORT_OFF; left = 1;
            end
          end
          default: ;
        endcase
      S_REPORT_OFF:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_WAIT_FOR_NEW_SOURCE; left = 1;
            end
          end
          event_message_failed: begin
             begin
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_NEW_SOURCE:
        (* parallel_case *) case (1'b1)
          event_supply_ready: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          take_sink_on_timeout: begin
             begin
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_TEST_CARRIER_MODE:
        (* parallel_case *) case (1'b1)
          take_test_carrier_timeout: begin
             begin
              state <= S_TRANSITION_TO_DEFAULT; left = 1;
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
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_detached: if (state != S_UNATTACHED) begin
         begin
          stop_no_response = 1;
          state <= S_UNATTACHED; left = 1;
        end
      end
      event_request: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state != S_DISCOVERY
          && state != S_SEND_CAPABILITIES && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state !=
          S_WAIT_FOR_NEW_OFFERS && state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET &&
          state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state !=
          S_NO_PARTNER && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_accept: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state != S_DISCOVERY
          && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_SEND_SOFT_RESET && state !=
          S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state !=
          S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_ASK_DATA_ROLE_SWAP && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_reject: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state != S_DISCOVERY
          && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_SEND_SOFT_RESET && state !=
          S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state !=
          S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_ASK_DATA_ROLE_SWAP && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_wait: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state != S_DISCOVERY &&
          state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_SEND_SOFT_RESET && state !=
          S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state !=
          S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_ASK_DATA_ROLE_SWAP && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_supply_ready: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_SEND_SOFT_RESET &&
          state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state !=
          S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_WAIT_FOR_VCONN && state !=
          S_WAIT_FOR_NEW_SOURCE && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_sink_capabilities: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state !=
          S_GET_SINK_CAPABILITIES && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state !=
          S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state !=
          S_NO_PARTNER && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_get_source_capabilities: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE &&
          state != S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY &&
          state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_get_sink_capabilities: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state
          != S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_data_role_swap: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_power_role_swap: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_vconn_swap: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_test_mode: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_vendor_message: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_not_supported: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_GET_SINK_CAPABILITIES && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state !=
          S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state !=
          S_NO_PARTNER && state != S_ASK_DATA_ROLE_SWAP && state != S_TEST_CARRIER_MODE && state !=
          S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_unknown_message: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_DISCOVERY && state != S_WAIT_FOR_SINK && state != S_TRANSITION_SUPPLY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_HARD_RESET_RECEIVED && state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_soft_reset: if (state != S_UNATTACHED && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED &&
          state != S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_TEST_CARRIER_MODE && state !=
          S_ERROR_RECOVERY) begin
         begin
          state <= S_ACCEPT_SOFT_RESET; left = 1;
        end
      end
      event_hard_reset_seen: if (state != S_UNATTACHED && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED &&
          state != S_TRANSITION_TO_DEFAULT && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_HARD_RESET_RECEIVED; left = 1;
        end
      end
      event_message_failed: if (state != S_UNATTACHED && state != S_STARTUP && state != S_ASK_CABLE && state !=
          S_SEND_CAPABILITIES && state != S_REPORT_SUPPLY && state != S_READY && state != S_SEND_SOFT_RESET && state
          != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED && state !=
          S_TRANSITION_TO_DEFAULT && state != S_NO_PARTNER && state != S_ACCEPT_DATA_ROLE_SWAP && state !=
          S_REPORT_OFF && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      take_no_response_timeout: if (state != S_DISCOVERY && state != S_HARD_RESET && state != S_HARD_RESET_RECEIVED
          && state != S_TRANSITION_TO_DEFAULT) begin
        if (is_hard_resets_exhausted) begin
          state <= S_ERROR_RECOVERY; left = 1;
        end
        else if (!is_hard_resets_exhausted) begin
          state <= S_HARD_RESET; left = 1;
        end
      end
      default: ;
    endcase
    if (left) case (state)
      S_SEND_CAPABILITIES: begin
        stop_sender_response = 1;
      end
      S_GET_SINK_CAPABILITIES: begin
        stop_sender_response = 1;
      end
      S_SEND_SOFT_RESET: begin
        stop_sender_response = 1;
      end
      S_ASK_DATA_ROLE_SWAP: begin
        stop_sender_response = 1;
      end
      default: ;
    endcase
    entered <= left;
    set_receive_enabled <= state == S_STARTUP || state == S_ASK_CABLE || state == S_DISCOVERY || state ==
        S_SEND_CAPABILITIES || state == S_NEGOTIATE_CAPABILITY || state == S_ACCEPT_REQUEST || state ==
        S_WAIT_FOR_SINK || state == S_TRANSITION_SUPPLY || state == S_REPORT_SUPPLY || state == S_DELAY_REQUEST ||
        state == S_REFUSE_REQUEST || state == S_WAIT_FOR_NEW_OFFERS || state == S_READY || state ==
        S_GET_SINK_CAPABILITIES || state == S_GIVE_SINK_CAPABILITIES || state == S_SEND_NOT_SUPPORTED || state ==
        S_SEND_SOFT_RESET || state == S_ACCEPT_SOFT_RESET || state == S_EVALUATE_DATA_ROLE_SWAP || state ==
        S_ACCEPT_DATA_ROLE_SWAP || state == S_ASK_DATA_ROLE_SWAP || state == S_REJECT_SWAP || state ==
        S_EVALUATE_VCONN_SWAP || state == S_ACCEPT_VCONN_SWAP || state == S_WAIT_FOR_VCONN || state ==
        S_TURN_ON_VCONN || state == S_REPORT_VCONN || state == S_EVALUATE_POWER_ROLE_SWAP || state ==
        S_ACCEPT_POWER_ROLE_SWAP || state == S_WAIT_BEFORE_OFF || state == S_TURN_OFF || state == S_REPORT_OFF ||
        state == S_WAIT_FOR_NEW_SOURCE;
    set_sink_may_start <= state == S_WAIT_FOR_NEW_OFFERS || state == S_READY;
    armed_sender_response <= start_sender_response | (armed_sender_response & ~stop_sender_response &
        ~take_sender_response_timeout);
    run_sender_response <= armed_sender_response & ~start_sender_response & ~stop_sender_response &
        ~take_sender_response_timeout;
    run_send_capabilities_again <= (state == S_STARTUP || state == S_DISCOVERY) & ~left;
    armed_no_response <= start_no_response | (armed_no_response & ~stop_no_response & ~take_no_response_timeout);
    run_no_response <= armed_no_response & ~start_no_response & ~stop_no_response & ~take_no_response_timeout;
    run_hard_reset_hold <= (state == S_HARD_RESET || state == S_HARD_RESET_RECEIVED) & ~left;
    run_source_transition <= (state == S_WAIT_FOR_SINK || state == S_WAIT_BEFORE_OFF) & ~left;
    run_sink_on <= (state == S_WAIT_FOR_NEW_SOURCE) & ~left;
    run_vconn_on <= (state == S_WAIT_FOR_VCONN) & ~left;
    run_cable_response <= (state == S_ASK_CABLE) & ~left;
    run_test_carrier <= (state == S_TEST_CARRIER_MODE) & ~left;
    run_recovery <= (state == S_ERROR_RECOVERY) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_evaluate_request <= 0;
      do_evaluate_swap <= 0;
      do_send_capabilities <= 0;
      do_send_accept <= 0;
      do_send_reject <= 0;
      do_send_wait <= 0;
      do_send_supply_ready <= 0;
      do_send_get_sink_capabilities <= 0;
      do_send_sink_capabilities <= 0;
      do_send_not_supported <= 0;
      do_send_data_role_swap <= 0;
      do_send_soft_reset <= 0;
      do_send_hard_reset <= 0;
      do_send_cable_identity <= 0;
      do_reset_message_layer <= 0;
      do_move_supply <= 0;
      do_turn_off_supply <= 0;
      do_go_to_default <= 0;
      do_swap_data_role <= 0;
      do_supply_cable <= 0;
      do_drop_cable <= 0;
      do_become_sink <= 0;
      do_keep_cable_identity <= 0;
      do_keep_sink_needs <= 0;
      do_send_test_carrier <= 0;
      do_forward_vendor_message <= 0;
      do_report_contract <= 0;
      do_report_no_partner <= 0;
      do_report_refusal <= 0;
      set_receive_enabled <= 0;
      set_sink_may_start <= 0;
      armed_sender_response <= 0;
      run_sender_response <= 0;
      run_send_capabilities_again <= 0;
      armed_no_response <= 0;
      run_no_response <= 0;
      run_hard_reset_hold <= 0;
      run_source_transition <= 0;
      run_sink_on <= 0;
      run_vconn_on <= 0;
      run_cable_response <= 0;
      run_test_carrier <= 0;
      run_recovery <= 0;
      count_hard_reset <= 0;
      count_capabilities <= 0;
      count_cable <= 0;
    end
  end
endmodule

// The state table catalog/state-machines/policy-sink.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/policy-sink.toml style=ordinary" top=policy_sink
module policy_sink (
  input wire clk,
  input wire reset,
  input wire event_attached,
  input wire event_detached,
  input wire event_vbus_present,
  input wire event_capabilities,
  input wire event_accept,
  input wire event_reject,
  input wire event_wait,
  input wire event_supply_ready,
  input wire event_get_sink_capabilities,
  input wire event_get_source_capabilities,
  input wire event_data_role_swap,
  input wire event_power_role_swap,
  input wire event_vconn_swap,
  input wire event_test_mode,
  input wire event_vendor_message,
  input wire event_unknown_message,
  input wire event_soft_reset,
  input wire event_hard_reset_seen,
  input wire event_message_sent,
  input wire event_message_failed,
  input wire event_message_dropped,
  input wire event_offer_chosen,
  input wire event_new_request_wanted,
  input wire event_offers_wanted,
  input wire event_swap_wanted,
  input wire event_allowed,
  input wire event_refused,
  input wire event_at_default,
  input wire event_vconn_is_on,
  input wire event_supply_is_on,
  input wire event_sender_response_timeout,
  input wire event_wait_capabilities_timeout,
  input wire event_supply_transition_timeout,
  input wire event_request_again_timeout,
  input wire event_source_off_timeout,
  input wire event_vconn_on_timeout,
  input wire event_test_carrier_timeout,
  input wire event_recovery_timeout,
  input wire is_has_contract,
  input wire is_supplies_cable,
  output reg [4:0] state,
  output reg do_evaluate_offers,
  output reg do_evaluate_swap,
  output reg do_send_request,
  output reg do_send_accept,
  output reg do_send_reject,
  output reg do_send_not_supported,
  output reg do_send_supply_ready,
  output reg do_send_sink_capabilities,
  output reg do_send_get_source_capabilities,
  output reg do_send_data_role_swap,
  output reg do_send_soft_reset,
  output reg do_send_hard_reset,
  output reg do_reset_message_layer,
  output reg do_take_new_power,
  output reg do_reduce_power,
  output reg do_go_to_default,
  output reg do_swap_data_role,
  output reg do_supply_cable,
  output reg do_drop_cable,
  output reg do_become_source,
  output reg do_send_test_carrier,
  output reg do_forward_vendor_message,
  output reg do_report_contract,
  output reg do_report_refusal,
  output reg set_receive_enabled,
  output reg set_draws_contract_power,
  output reg run_sender_response,
  output reg run_wait_capabilities,
  output reg run_supply_transition,
  output reg run_request_again,
  output reg run_source_off,
  output reg run_vconn_on,
  output reg run_test_carrier,
  output reg run_recovery
);
  localparam S_UNATTACHED = 0;
  localparam S_DISCOVERY = 1;
  localparam S_WAIT_FOR_CAPABILITIES = 2;
  localparam S_EVALUATE_CAPABILITY = 3;
  localparam S_SELECT_CAPABILITY = 4;
  localparam S_TRANSITION_SINK = 5;
  localparam S_READY = 6;
  localparam S_GIVE_SINK_CAPABILITIES = 7;
  localparam S_GET_SOURCE_CAPABILITIES = 8;
  localparam S_SEND_NOT_SUPPORTED = 9;
  localparam S_SEND_SOFT_RESET = 10;
  localparam S_ACCEPT_SOFT_RESET = 11;
  localparam S_HARD_RESET = 12;
  localparam S_TRANSITION_TO_DEFAULT = 13;
  localparam S_EVALUATE_DATA_ROLE_SWAP = 14;
  localparam S_ACCEPT_DATA_ROLE_SWAP = 15;
  localparam S_ASK_DATA_ROLE_SWAP = 16;
  localparam S_REJECT_SWAP = 17;
  localparam S_EVALUATE_VCONN_SWAP = 18;
  localparam S_ACCEPT_VCONN_SWAP = 19;
  localparam S_WAIT_FOR_VCONN = 20;
  localparam S_TURN_ON_VCONN = 21;
  localparam S_REPORT_VCONN = 22;
  localparam S_EVALUATE_POWER_ROLE_SWAP = 23;
  localparam S_ACCEPT_POWER_ROLE_SWAP = 24;
  localparam S_WAIT_FOR_SOURCE_OFF = 25;
  localparam S_TURN_ON_SOURCE = 26;
  localparam S_REPORT_SOURCE_ON = 27;
  localparam S_TEST_CARRIER_MODE = 28;
  localparam S_ERROR_RECOVERY = 29;

  reg [1:0] count_hard_reset;
  wire is_hard_resets_exhausted = count_hard_reset == 2;
  reg armed_sender_response, start_sender_response, stop_sender_response;
  reg armed_request_again, start_request_again, stop_request_again;
  reg entered;
  reg left;
  wire busy = event_attached | event_detached | event_vbus_present | event_capabilities | event_accept |
      event_reject | event_wait | event_supply_ready | event_get_sink_capabilities | event_get_source_capabilities |
      event_data_role_swap | event_power_role_swap | event_vconn_swap | event_test_mode | event_vendor_message |
      event_unknown_message | event_soft_reset | event_hard_reset_seen | event_message_sent | event_message_failed |
      event_message_dropped | event_offer_chosen | event_new_request_wanted | event_offers_wanted |
      event_swap_wanted | event_allowed | event_refused | event_at_default | event_vconn_is_on | event_supply_is_on;
  wire expired_sender_response = event_sender_response_timeout & run_sender_response;
  wire take_sender_response_timeout = expired_sender_response & ~busy;
  wire expired_wait_capabilities = event_wait_capabilities_timeout & run_wait_capabilities;
  wire take_wait_capabilities_timeout = expired_wait_capabilities & ~busy & ~expired_sender_response;
  wire expired_supply_transition = event_supply_transition_timeout & run_supply_transition;
  wire take_supply_transition_timeout = expired_supply_transition & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities;
  wire expired_request_again = event_request_again_timeout & run_request_again;
  wire take_request_again_timeout = expired_request_again & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition;
  wire expired_source_off = event_source_off_timeout & run_source_off;
  wire take_source_off_timeout = expired_source_off & ~busy & ~expired_sender_response & ~expired_wait_capabilities
      & ~expired_supply_transition & ~expired_request_again;
  wire expired_vconn_on = event_vconn_on_timeout & run_vconn_on;
  wire take_vconn_on_timeout = expired_vconn_on & ~busy & ~expired_sender_response & ~expired_wait_capabilities &
      ~expired_supply_transition & ~expired_request_again & ~expired_source_off;
  wire expired_test_carrier = event_test_carrier_timeout & run_test_carrier;
  wire take_test_carrier_timeout = expired_test_carrier & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition & ~expired_request_again & ~expired_source_off &
      ~expired_vconn_on;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_sender_response & ~expired_wait_capabilities &
      ~expired_supply_transition & ~expired_request_again & ~expired_source_off & ~expired_vconn_on &
      ~expired_test_carrier;

  always @(posedge clk) begin
    left = 0;
    start_sender_response = 0; stop_sender_response = 0;
    start_request_again = 0; stop_request_again = 0;
    do_evaluate_offers <= 0;
    do_evaluate_swap <= 0;
    do_send_request <= 0;
    do_send_accept <= 0;
    do_send_reject <= 0;
    do_send_not_supported <= 0;
    do_send_supply_ready <= 0;
    do_send_sink_capabilities <= 0;
    do_send_get_source_capabilities <= 0;
    do_send_data_role_swap <= 0;
    do_send_soft_reset <= 0;
    do_send_hard_reset <= 0;
    do_reset_message_layer <= 0;
    do_take_new_power <= 0;
    do_reduce_power <= 0;
    do_go_to_default <= 0;
    do_swap_data_role <= 0;
    do_supply_cable <= 0;
    do_drop_cable <= 0;
    do_become_source <= 0;
    do_send_test_carrier <= 0;
    do_forward_vendor_message <= 0;
    do_report_contract <= 0;
    do_report_refusal <= 0;
    if (entered) case (state)
      S_DISCOVERY: begin
        do_reset_message_layer <= 1;
      end
      S_EVALUATE_CAPABILITY: begin
        count_hard_reset <= 0;
        do_evaluate_offers <= 1;
      end
      S_SELECT_CAPABILITY: begin
        do_send_request <= 1;
      end
      S_TRANSITION_SINK: begin
        do_reduce_power <= 1;
      end
      S_GIVE_SINK_CAPABILITIES: begin
        do_send_sink_capabilities <= 1;
      end
      S_GET_SOURCE_CAPABILITIES: begin
        do_send_get_source_capabilities <= 1;
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
      end
      S_TRANSITION_TO_DEFAULT: begin
        do_go_to_default <= 1;
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
        do_reduce_power <= 1;
        do_send_accept <= 1;
      end
      S_TURN_ON_SOURCE: begin
        do_become_source <= 1;
      end
      S_REPORT_SOURCE_ON: begin
        do_send_supply_ready <= 1;
      end
      S_TEST_CARRIER_MODE: begin
        do_send_test_carrier <= 1;
      end
      S_ERROR_RECOVERY: begin
        do_go_to_default <= 1;
        count_hard_reset <= 0;
      end
      default: ;
    endcase
    case (state)
      S_UNATTACHED:
        (* parallel_case *) case (1'b1)
          event_attached: begin
             begin
              state <= S_DISCOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_DISCOVERY:
        (* parallel_case *) case (1'b1)
          event_vbus_present: begin
             begin
              state <= S_WAIT_FOR_CAPABILITIES; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_CAPABILITIES:
        (* parallel_case *) case (1'b1)
          event_capabilities: begin
             begin
              state <= S_EVALUATE_CAPABILITY; left = 1;
            end
          end
          take_wait_capabilities_timeout: begin
            if (!is_hard_resets_exhausted) begin
              state <= S_HARD_RESET; left = 1;
            end
            else if (is_hard_resets_exhausted && is_has_contract) begin
              state <= S_ERROR_RECOVERY; left = 1;
            end
            else if (is_hard_resets_exhausted && !is_has_contract) begin
              state <= S_DISCOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_EVALUATE_CAPABILITY:
        (* parallel_case *) case (1'b1)
          event_capabilities: begin
             begin
              state <= S_EVALUATE_CAPABILITY; left = 1;
            end
          end
          event_offer_chosen: begin
             begin
              state <= S_SELECT_CAPABILITY; left = 1;
            end
          end
          default: ;
        endcase
      S_SELECT_CAPABILITY:
        (* parallel_case *) case (1'b1)
          event_accept: begin
             begin
              state <= S_TRANSITION_SINK; left = 1;
            end
          end
          event_reject: begin
            if (is_has_contract) begin
              do_report_refusal <= 1;
              state <= S_READY; left = 1;
            end
            else if (!is_has_contract) begin
              do_report_refusal <= 1;
              state <= S_WAIT_FOR_CAPABILITIES; left = 1;
            end
          end
          event_wait: begin
            if (is_has_contract) begin
              start_request_again = 1;
              state <= S_READY; left = 1;
            end
            else if (!is_has_contract) begin
              state <= S_WAIT_FOR_CAPABILITIES; left = 1;
            end
          end
          event_message_sent: begin
             begin
              start_sender_response = 1;
            end
          end
          take_sender_response_timeout: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_TRANSITION_SINK:
        (* parallel_case *) case (1'b1)
          event_supply_ready: begin
             begin
              do_take_new_power <= 1;
              do_report_contract <= 1;
              state <= S_READY; left = 1;
            end
          end
          take_supply_transition_timeout: begin
             begin
              state <= S_HARD_RESET; left = 1;
            end
          end
          default: ;
        endcase
      S_READY:
        (* parallel_case *) case (1'b1)
          event_detached: begin
             begin
              count_hard_reset <= 0;
              stop_request_again = 1;
              state <= S_UNATTACHED; left = 1;
            end
          end
          event_capabilities: begin
             begin
              stop_request_again = 1;
              state <= S_EVALUATE_CAPABILITY; left = 1;
            end
          end
          event_get_sink_capabilities: begin
             begin
              state <= S_GIVE_SINK_CAPABILITIES; left = 1;
            end
          end
          event_get_source_capabilities: begin
             begin
              state <= S_SEND_NOT_SUPPORTED; left = 1;
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
          event_hard_reset_seen: begin
             begin
              stop_request_again = 1;
              state <= S_TRANSITION_TO_DEFAULT; left = 1;
            end
          end
          event_new_request_wanted: begin
             begin
              stop_request_again = 1;
              state <= S_EVALUATE_CAPABILITY; left = 1;
            end
          end
          event_offers_wanted: begin
             begin
              state <= S_GET_SOURCE_CAPABILITIES; left = 1;
            end
          end
          event_swap_wanted: begin
             begin
              state <= S_ASK_DATA_ROLE_SWAP; left = 1;
            end
          end
          take_request_again_timeout: begin
             begin
              state <= S_SELECT_CAPABILITY; left = 1;
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
      S_GET_SOURCE_CAPABILITIES:
        (* parallel_case *) case (1'b1)
          event_capabilities: begin
             begin
              state <= S_EVALUATE_CAPABILITY; left = 1;
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
              state <= S_WAIT_FOR_CAPABILITIES; left = 1;
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
              state <= S_WAIT_FOR_CAPABILITIES; left = 1;
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
          event_message_sent: begin
             begin
              state <= S_TRANSITION_TO_DEFAULT; left = 1;
            end
          end
          event_message_failed: begin
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
              state <= S_DISCOVERY; left = 1;
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
              state <= S_WAIT_FOR_SOURCE_OFF; left = 1;
            end
          end
          default: ;
        endcase
      S_WAIT_FOR_SOURCE_OFF:
        (* parallel_case *) case (1'b1)
          event_supply_ready: begin
             begin
              state <= S_TURN_ON_SOURCE; left = 1;
            end
          end
          take_source_off_timeout: begin
             begin
              state <= S_ERROR_RECOVERY; left = 1;
            end
          end
          default: ;
        endcase
      S_TURN_ON_SOURCE:
        (* parallel_case *) case (1'b1)
          event_supply_is_on: begin
             begin
              state <= S_REPORT_SOURCE_ON; left = 1;
            end
          end
          default: ;
        endcase
      S_REPORT_SOURCE_ON:
        (* parallel_case *) case (1'b1)
          event_message_sent: begin
             begin
              state <= S_UNATTACHED; left = 1;
            end
          end
          event_message_failed: begin
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
      event_detached: if (state != S_UNATTACHED && state != S_READY && state != S_TURN_ON_SOURCE) begin
         begin
          count_hard_reset <= 0;
          state <= S_UNATTACHED; left = 1;
        end
      end
      event_capabilities: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_EVALUATE_CAPABILITY && state != S_READY && state != S_GET_SOURCE_CAPABILITIES && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_accept: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES && state
          != S_SELECT_CAPABILITY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state !=
          S_HARD_RESET && state != S_TRANSITION_TO_DEFAULT && state != S_ASK_DATA_ROLE_SWAP && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_reject: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES && state
          != S_SELECT_CAPABILITY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state !=
          S_HARD_RESET && state != S_TRANSITION_TO_DEFAULT && state != S_ASK_DATA_ROLE_SWAP && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_wait: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES && state !=
          S_SELECT_CAPABILITY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET
          && state != S_TRANSITION_TO_DEFAULT && state != S_ASK_DATA_ROLE_SWAP && state != S_TEST_CARRIER_MODE &&
          state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_supply_ready: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_TRANSITION_SINK && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state !=
          S_HARD_RESET && state != S_TRANSITION_TO_DEFAULT && state != S_WAIT_FOR_VCONN && state !=
          S_WAIT_FOR_SOURCE_OFF && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_get_sink_capabilities: if (state != S_UNATTACHED && state != S_DISCOVERY && state !=
          S_WAIT_FOR_CAPABILITIES && state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET
          && state != S_HARD_RESET && state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state !=
          S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_get_source_capabilities: if (state != S_UNATTACHED && state != S_DISCOVERY && state !=
          S_WAIT_FOR_CAPABILITIES && state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET
          && state != S_HARD_RESET && state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state !=
          S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_data_role_swap: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET &&
          state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_power_role_swap: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES
          && state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET
          && state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_vconn_swap: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET &&
          state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_test_mode: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET &&
          state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_vendor_message: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES &&
          state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET &&
          state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_unknown_message: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_WAIT_FOR_CAPABILITIES
          && state != S_READY && state != S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET
          && state != S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      event_soft_reset: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_HARD_RESET && state !=
          S_TRANSITION_TO_DEFAULT && state != S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_ACCEPT_SOFT_RESET; left = 1;
        end
      end
      event_hard_reset_seen: if (state != S_UNATTACHED && state != S_READY && state != S_TRANSITION_TO_DEFAULT &&
          state != S_ERROR_RECOVERY) begin
         begin
          state <= S_TRANSITION_TO_DEFAULT; left = 1;
        end
      end
      event_message_failed: if (state != S_UNATTACHED && state != S_DISCOVERY && state != S_READY && state !=
          S_SEND_SOFT_RESET && state != S_ACCEPT_SOFT_RESET && state != S_HARD_RESET && state !=
          S_TRANSITION_TO_DEFAULT && state != S_ACCEPT_DATA_ROLE_SWAP && state != S_REPORT_SOURCE_ON && state !=
          S_TEST_CARRIER_MODE && state != S_ERROR_RECOVERY) begin
         begin
          state <= S_SEND_SOFT_RESET; left = 1;
        end
      end
      default: ;
    endcase
    if (left) case (state)
      S_SELECT_CAPABILITY: begin
        stop_sender_response = 1;
      end
      S_GET_SOURCE_CAPABILITIES: begin
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
    set_receive_enabled <= state == S_WAIT_FOR_CAPABILITIES || state == S_EVALUATE_CAPABILITY || state ==
        S_SELECT_CAPABILITY || state == S_TRANSITION_SINK || state == S_READY || state == S_GIVE_SINK_CAPABILITIES
        || state == S_GET_SOURCE_CAPABILITIES || state == S_SEND_NOT_SUPPORTED || state == S_SEND_SOFT_RESET ||
        state == S_ACCEPT_SOFT_RESET || state == S_EVALUATE_DATA_ROLE_SWAP || state == S_ACCEPT_DATA_ROLE_SWAP ||
        state == S_ASK_DATA_ROLE_SWAP || state == S_REJECT_SWAP || state == S_EVALUATE_VCONN_SWAP || state ==
        S_ACCEPT_VCONN_SWAP || state == S_WAIT_FOR_VCONN || state == S_TURN_ON_VCONN || state == S_REPORT_VCONN ||
        state == S_EVALUATE_POWER_ROLE_SWAP || state == S_ACCEPT_POWER_ROLE_SWAP || state == S_WAIT_FOR_SOURCE_OFF
        || state == S_TURN_ON_SOURCE || state == S_REPORT_SOURCE_ON;
    set_draws_contract_power <= state == S_READY || state == S_GIVE_SINK_CAPABILITIES || state ==
        S_GET_SOURCE_CAPABILITIES || state == S_SEND_NOT_SUPPORTED || state == S_EVALUATE_DATA_ROLE_SWAP || state ==
        S_ACCEPT_DATA_ROLE_SWAP || state == S_ASK_DATA_ROLE_SWAP || state == S_REJECT_SWAP || state ==
        S_EVALUATE_VCONN_SWAP || state == S_ACCEPT_VCONN_SWAP || state == S_WAIT_FOR_VCONN || state ==
        S_TURN_ON_VCONN || state == S_REPORT_VCONN || state == S_EVALUATE_POWER_ROLE_SWAP;
    armed_sender_response <= start_sender_response | (armed_sender_response & ~stop_sender_response &
        ~take_sender_response_timeout);
    run_sender_response <= armed_sender_response & ~start_sender_response & ~stop_sender_response &
        ~take_sender_response_timeout;
    run_wait_capabilities <= (state == S_WAIT_FOR_CAPABILITIES) & ~left;
    run_supply_transition <= (state == S_TRANSITION_SINK) & ~left;
    armed_request_again <= start_request_again | (armed_request_again & ~stop_request_again &
        ~take_request_again_timeout);
    run_request_again <= armed_request_again & ~start_request_again & ~stop_request_again &
        ~take_request_again_timeout;
    run_source_off <= (state == S_WAIT_FOR_SOURCE_OFF) & ~left;
    run_vconn_on <= (state == S_WAIT_FOR_VCONN) & ~left;
    run_test_carrier <= (state == S_TEST_CARRIER_MODE) & ~left;
    run_recovery <= (state == S_ERROR_RECOVERY) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_evaluate_offers <= 0;
      do_evaluate_swap <= 0;
      do_send_request <= 0;
      do_send_accept <= 0;
      do_send_reject <= 0;
      do_send_not_supported <= 0;
      do_send_supply_ready <= 0;
      do_send_sink_capabilities <= 0;
      do_send_get_source_capabilities <= 0;
      do_send_data_role_swap <= 0;
      do_send_soft_reset <= 0;
      do_send_hard_reset <= 0;
      do_reset_message_layer <= 0;
      do_take_new_power <= 0;
      do_reduce_power <= 0;
      do_go_to_default <= 0;
      do_swap_data_role <= 0;
      do_supply_cable <= 0;
      do_drop_cable <= 0;
      do_become_source <= 0;
      do_send_test_carrier <= 0;
      do_forward_vendor_message <= 0;
      do_report_contract <= 0;
      do_report_refusal <= 0;
      set_receive_enabled <= 0;
      set_draws_contract_power <= 0;
      armed_sender_response <= 0;
      run_sender_response <= 0;
      run_wait_capabilities <= 0;
      run_supply_transition <= 0;
      armed_request_again <= 0;
      run_request_again <= 0;
      run_source_off <= 0;
      run_vconn_on <= 0;
      run_test_carrier <= 0;
      run_recovery <= 0;
      count_hard_reset <= 0;
    end
  end
endmodule

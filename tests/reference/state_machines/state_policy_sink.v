// The state table catalog/state-machines/policy-sink.toml as a designer would write it out: one-hot states, one product
// term for what several states do alike, registered outputs. At most one event is high in a clock; the event of a
// timer is a level that is looked at while the timer runs and no other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/policy-sink.toml style=factored" top=policy_sink
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
    output reg [29:0] state,
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
  reg armed_sender_response;
  reg armed_request_again;
  reg entered;
  wire busy = event_attached | event_detached | event_vbus_present | event_capabilities | event_accept |
      event_reject | event_wait | event_supply_ready | event_get_sink_capabilities |
      event_get_source_capabilities | event_data_role_swap | event_power_role_swap | event_vconn_swap |
      event_test_mode | event_vendor_message | event_unknown_message | event_soft_reset |
      event_hard_reset_seen | event_message_sent | event_message_failed | event_message_dropped |
      event_offer_chosen | event_new_request_wanted | event_offers_wanted | event_swap_wanted |
      event_allowed | event_refused | event_at_default | event_vconn_is_on | event_supply_is_on;
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
  wire take_source_off_timeout = expired_source_off & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition & ~expired_request_again;
  wire expired_vconn_on = event_vconn_on_timeout & run_vconn_on;
  wire take_vconn_on_timeout = expired_vconn_on & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition & ~expired_request_again &
      ~expired_source_off;
  wire expired_test_carrier = event_test_carrier_timeout & run_test_carrier;
  wire take_test_carrier_timeout = expired_test_carrier & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition & ~expired_request_again & ~expired_source_off
      & ~expired_vconn_on;
  wire expired_recovery = event_recovery_timeout & run_recovery;
  wire take_recovery_timeout = expired_recovery & ~busy & ~expired_sender_response &
      ~expired_wait_capabilities & ~expired_supply_transition & ~expired_request_again & ~expired_source_off
      & ~expired_vconn_on & ~expired_test_carrier;

  wire fire_0 = (state[S_UNATTACHED]) & event_attached;
  wire fire_1 = ~(state[S_UNATTACHED] | state[S_READY] | state[S_TURN_ON_SOURCE]) & event_detached;
  wire fire_2 = (state[S_DISCOVERY]) & event_vbus_present;
  wire fire_3 = ~(state[S_UNATTACHED] | state[S_READY] | state[S_TRANSITION_TO_DEFAULT] |
      state[S_ERROR_RECOVERY]) & event_hard_reset_seen;
  wire fire_4 = (state[S_WAIT_FOR_CAPABILITIES] | state[S_EVALUATE_CAPABILITY] |
      state[S_GET_SOURCE_CAPABILITIES]) & event_capabilities;
  wire fire_5 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_soft_reset;
  wire fire_6 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_READY] | state[S_SEND_SOFT_RESET] |
      state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] | state[S_TRANSITION_TO_DEFAULT] |
      state[S_ACCEPT_DATA_ROLE_SWAP] | state[S_REPORT_SOURCE_ON] | state[S_TEST_CARRIER_MODE] |
      state[S_ERROR_RECOVERY]) & event_message_failed;
  wire fire_7 = (state[S_WAIT_FOR_CAPABILITIES]) & take_wait_capabilities_timeout &
      (~is_hard_resets_exhausted);
  wire fire_8 = (state[S_WAIT_FOR_CAPABILITIES]) & take_wait_capabilities_timeout &
      (is_hard_resets_exhausted & is_has_contract);
  wire fire_9 = (state[S_WAIT_FOR_CAPABILITIES]) & take_wait_capabilities_timeout &
      (is_hard_resets_exhausted & ~is_has_contract);
  wire fire_10 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_SELECT_CAPABILITY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] |
      state[S_HARD_RESET] | state[S_TRANSITION_TO_DEFAULT] | state[S_ASK_DATA_ROLE_SWAP] |
      state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) & event_accept;
  wire fire_11 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_SELECT_CAPABILITY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] |
      state[S_HARD_RESET] | state[S_TRANSITION_TO_DEFAULT] | state[S_ASK_DATA_ROLE_SWAP] |
      state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) & event_reject;
  wire fire_12 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_SELECT_CAPABILITY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] |
      state[S_HARD_RESET] | state[S_TRANSITION_TO_DEFAULT] | state[S_ASK_DATA_ROLE_SWAP] |
      state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) & event_wait;
  wire fire_13 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_TRANSITION_SINK] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET]
      | state[S_TRANSITION_TO_DEFAULT] | state[S_WAIT_FOR_VCONN] | state[S_WAIT_FOR_SOURCE_OFF] |
      state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) & event_supply_ready;
  wire fire_14 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_get_sink_capabilities;
  wire fire_15 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_get_source_capabilities;
  wire fire_16 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_data_role_swap;
  wire fire_17 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_power_role_swap;
  wire fire_18 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_vconn_swap;
  wire fire_19 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_test_mode;
  wire fire_20 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_vendor_message;
  wire fire_21 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_READY] | state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_unknown_message;
  wire fire_22 = (state[S_EVALUATE_CAPABILITY]) & event_offer_chosen;
  wire fire_23 = ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_WAIT_FOR_CAPABILITIES] |
      state[S_EVALUATE_CAPABILITY] | state[S_READY] | state[S_GET_SOURCE_CAPABILITIES] |
      state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET] | state[S_HARD_RESET] |
      state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]) &
      event_capabilities;
  wire fire_24 = (state[S_SELECT_CAPABILITY]) & event_accept;
  wire fire_25 = (state[S_SELECT_CAPABILITY]) & event_reject & (is_has_contract);
  wire fire_26 = (state[S_SELECT_CAPABILITY]) & event_reject & (~is_has_contract);
  wire fire_27 = (state[S_SELECT_CAPABILITY]) & event_wait & (is_has_contract);
  wire fire_28 = (state[S_SELECT_CAPABILITY]) & event_wait & (~is_has_contract);
  wire fire_29 = (state[S_SELECT_CAPABILITY] | state[S_GET_SOURCE_CAPABILITIES] | state[S_SEND_SOFT_RESET] |
      state[S_ASK_DATA_ROLE_SWAP]) & event_message_sent;
  wire fire_30 = (state[S_SELECT_CAPABILITY] | state[S_SEND_SOFT_RESET]) & take_sender_response_timeout;
  wire fire_31 = (state[S_TRANSITION_SINK]) & event_supply_ready;
  wire fire_32 = (state[S_TRANSITION_SINK]) & take_supply_transition_timeout;
  wire fire_33 = (state[S_READY]) & event_detached;
  wire fire_34 = (state[S_READY]) & event_capabilities;
  wire fire_35 = (state[S_READY]) & event_get_sink_capabilities;
  wire fire_36 = (state[S_READY]) & event_get_source_capabilities;
  wire fire_37 = (state[S_READY]) & event_data_role_swap;
  wire fire_38 = (state[S_READY]) & event_power_role_swap;
  wire fire_39 = (state[S_READY]) & event_vconn_swap;
  wire fire_40 = (state[S_READY]) & event_test_mode;
  wire fire_41 = (state[S_READY]) & event_vendor_message;
  wire fire_42 = (state[S_READY]) & event_unknown_message;
  wire fire_43 = (state[S_READY]) & event_hard_reset_seen;
  wire fire_44 = (state[S_READY]) & event_new_request_wanted;
  wire fire_45 = (state[S_READY]) & event_offers_wanted;
  wire fire_46 = (state[S_READY]) & event_swap_wanted;
  wire fire_47 = (state[S_READY]) & take_request_again_timeout;
  wire fire_48 = (state[S_GIVE_SINK_CAPABILITIES] | state[S_SEND_NOT_SUPPORTED] | state[S_REJECT_SWAP] |
      state[S_REPORT_VCONN]) & event_message_sent;
  wire fire_49 = (state[S_GIVE_SINK_CAPABILITIES] | state[S_GET_SOURCE_CAPABILITIES] |
      state[S_SEND_NOT_SUPPORTED] | state[S_ASK_DATA_ROLE_SWAP] | state[S_REJECT_SWAP]) &
      event_message_dropped;
  wire fire_50 = (state[S_GET_SOURCE_CAPABILITIES]) & take_sender_response_timeout;
  wire fire_51 = (state[S_SEND_SOFT_RESET]) & event_accept;
  wire fire_52 = (state[S_SEND_SOFT_RESET] | state[S_ACCEPT_SOFT_RESET]) & event_message_failed;
  wire fire_53 = (state[S_ACCEPT_SOFT_RESET]) & event_message_sent;
  wire fire_54 = (state[S_HARD_RESET]) & event_message_sent;
  wire fire_55 = (state[S_HARD_RESET]) & event_message_failed;
  wire fire_56 = (state[S_TRANSITION_TO_DEFAULT]) & event_at_default;
  wire fire_57 = (state[S_EVALUATE_DATA_ROLE_SWAP]) & event_allowed;
  wire fire_58 = (state[S_EVALUATE_DATA_ROLE_SWAP] | state[S_EVALUATE_VCONN_SWAP] |
      state[S_EVALUATE_POWER_ROLE_SWAP]) & event_refused;
  wire fire_59 = (state[S_ACCEPT_DATA_ROLE_SWAP]) & event_message_sent;
  wire fire_60 = (state[S_ACCEPT_DATA_ROLE_SWAP] | state[S_REPORT_SOURCE_ON]) & event_message_failed;
  wire fire_61 = (state[S_ASK_DATA_ROLE_SWAP]) & event_accept;
  wire fire_62 = (state[S_ASK_DATA_ROLE_SWAP]) & event_reject;
  wire fire_63 = (state[S_ASK_DATA_ROLE_SWAP]) & event_wait;
  wire fire_64 = (state[S_ASK_DATA_ROLE_SWAP]) & take_sender_response_timeout;
  wire fire_65 = (state[S_EVALUATE_VCONN_SWAP]) & event_allowed;
  wire fire_66 = (state[S_ACCEPT_VCONN_SWAP]) & event_message_sent & (is_supplies_cable);
  wire fire_67 = (state[S_ACCEPT_VCONN_SWAP]) & event_message_sent & (~is_supplies_cable);
  wire fire_68 = (state[S_WAIT_FOR_VCONN]) & event_supply_ready;
  wire fire_69 = (state[S_WAIT_FOR_VCONN]) & take_vconn_on_timeout;
  wire fire_70 = (state[S_TURN_ON_VCONN]) & event_vconn_is_on;
  wire fire_71 = (state[S_EVALUATE_POWER_ROLE_SWAP]) & event_allowed;
  wire fire_72 = (state[S_ACCEPT_POWER_ROLE_SWAP]) & event_message_sent;
  wire fire_73 = (state[S_WAIT_FOR_SOURCE_OFF]) & event_supply_ready;
  wire fire_74 = (state[S_WAIT_FOR_SOURCE_OFF]) & take_source_off_timeout;
  wire fire_75 = (state[S_TURN_ON_SOURCE]) & event_supply_is_on;
  wire fire_76 = (state[S_REPORT_SOURCE_ON]) & event_message_sent;
  wire fire_77 = (state[S_TEST_CARRIER_MODE]) & take_test_carrier_timeout;
  wire fire_78 = (state[S_ERROR_RECOVERY]) & take_recovery_timeout;
  wire left = fire_0 | fire_1 | fire_2 | fire_3 | fire_4 | fire_5 | fire_6 | fire_7 | fire_8 | fire_9 |
      fire_10 | fire_11 | fire_12 | fire_13 | fire_14 | fire_15 | fire_16 | fire_17 | fire_18 | fire_19 |
      fire_20 | fire_21 | fire_22 | fire_23 | fire_24 | fire_25 | fire_26 | fire_27 | fire_28 | fire_30 |
      fire_31 | fire_32 | fire_33 | fire_34 | fire_35 | fire_36 | fire_37 | fire_38 | fire_39 | fire_40 |
      fire_42 | fire_43 | fire_44 | fire_45 | fire_46 | fire_47 | fire_48 | fire_49 | fire_50 | fire_51 |
      fire_52 | fire_53 | fire_54 | fire_55 | fire_56 | fire_57 | fire_58 | fire_59 | fire_60 | fire_61 |
      fire_62 | fire_63 | fire_64 | fire_65 | fire_66 | fire_67 | fire_68 | fire_69 | fire_70 | fire_71 |
      fire_72 | fire_73 | fire_74 | fire_75 | fire_76 | fire_77 | fire_78;

  wire start_sender_response = fire_29;
  wire end_sender_response = (left & (state[S_SELECT_CAPABILITY] | state[S_GET_SOURCE_CAPABILITIES] |
      state[S_SEND_SOFT_RESET] | state[S_ASK_DATA_ROLE_SWAP])) | take_sender_response_timeout;
  wire start_request_again = fire_27;
  wire end_request_again = fire_33 | fire_34 | fire_43 | fire_44 | take_request_again_timeout;

  always @(posedge clk)
    if (reset) begin
      state <= 1;
      entered <= 1;
      count_hard_reset <= 0;
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
    end else begin
      if (left) begin
        state[S_UNATTACHED] <= fire_1 | fire_33 | fire_76 | fire_78;
        state[S_DISCOVERY] <= fire_0 | fire_9 | fire_56;
        state[S_WAIT_FOR_CAPABILITIES] <= fire_2 | fire_26 | fire_28 | fire_51 | fire_53;
        state[S_EVALUATE_CAPABILITY] <= fire_4 | fire_34 | fire_44;
        state[S_SELECT_CAPABILITY] <= fire_22 | fire_47;
        state[S_TRANSITION_SINK] <= fire_24;
        state[S_READY] <= fire_25 | fire_27 | fire_31 | fire_48 | fire_49 | fire_50 | fire_59 | fire_61 |
            fire_62 | fire_63 | fire_64 | fire_68;
        state[S_GIVE_SINK_CAPABILITIES] <= fire_35;
        state[S_GET_SOURCE_CAPABILITIES] <= fire_45;
        state[S_SEND_NOT_SUPPORTED] <= fire_36 | fire_42;
        state[S_SEND_SOFT_RESET] <= fire_6 | fire_10 | fire_11 | fire_12 | fire_13 | fire_14 | fire_15 |
            fire_16 | fire_17 | fire_18 | fire_19 | fire_20 | fire_21 | fire_23;
        state[S_ACCEPT_SOFT_RESET] <= fire_5;
        state[S_HARD_RESET] <= fire_7 | fire_30 | fire_32 | fire_52 | fire_69;
        state[S_TRANSITION_TO_DEFAULT] <= fire_3 | fire_43 | fire_54 | fire_55 | fire_77;
        state[S_EVALUATE_DATA_ROLE_SWAP] <= fire_37;
        state[S_ACCEPT_DATA_ROLE_SWAP] <= fire_57;
        state[S_ASK_DATA_ROLE_SWAP] <= fire_46;
        state[S_REJECT_SWAP] <= fire_58;
        state[S_EVALUATE_VCONN_SWAP] <= fire_39;
        state[S_ACCEPT_VCONN_SWAP] <= fire_65;
        state[S_WAIT_FOR_VCONN] <= fire_66;
        state[S_TURN_ON_VCONN] <= fire_67;
        state[S_REPORT_VCONN] <= fire_70;
        state[S_EVALUATE_POWER_ROLE_SWAP] <= fire_38;
        state[S_ACCEPT_POWER_ROLE_SWAP] <= fire_71;
        state[S_WAIT_FOR_SOURCE_OFF] <= fire_72;
        state[S_TURN_ON_SOURCE] <= fire_73;
        state[S_REPORT_SOURCE_ON] <= fire_75;
        state[S_TEST_CARRIER_MODE] <= fire_40;
        state[S_ERROR_RECOVERY] <= fire_8 | fire_60 | fire_74;
      end
      entered <= left;
      if (fire_1 | fire_33 | (entered & (state[S_EVALUATE_CAPABILITY] | state[S_ERROR_RECOVERY])))
          count_hard_reset <= 0;
      else if (((entered & (state[S_HARD_RESET]))) & ~is_hard_resets_exhausted) count_hard_reset <=
          count_hard_reset + 1;
      armed_sender_response <= start_sender_response | (armed_sender_response & ~end_sender_response);
      run_sender_response <= armed_sender_response & ~start_sender_response & ~end_sender_response;
      run_wait_capabilities <= (state[S_WAIT_FOR_CAPABILITIES]) & ~left;
      run_supply_transition <= (state[S_TRANSITION_SINK]) & ~left;
      armed_request_again <= start_request_again | (armed_request_again & ~end_request_again);
      run_request_again <= armed_request_again & ~start_request_again & ~end_request_again;
      run_source_off <= (state[S_WAIT_FOR_SOURCE_OFF]) & ~left;
      run_vconn_on <= (state[S_WAIT_FOR_VCONN]) & ~left;
      run_test_carrier <= (state[S_TEST_CARRIER_MODE]) & ~left;
      run_recovery <= (state[S_ERROR_RECOVERY]) & ~left;
      do_evaluate_offers <= (entered & (state[S_EVALUATE_CAPABILITY]));
      do_evaluate_swap <= (entered & (state[S_EVALUATE_DATA_ROLE_SWAP] | state[S_EVALUATE_VCONN_SWAP] |
          state[S_EVALUATE_POWER_ROLE_SWAP]));
      do_send_request <= (entered & (state[S_SELECT_CAPABILITY]));
      do_send_accept <= (entered & (state[S_ACCEPT_SOFT_RESET] | state[S_ACCEPT_DATA_ROLE_SWAP] |
          state[S_ACCEPT_VCONN_SWAP] | state[S_ACCEPT_POWER_ROLE_SWAP]));
      do_send_reject <= (entered & (state[S_REJECT_SWAP]));
      do_send_not_supported <= (entered & (state[S_SEND_NOT_SUPPORTED]));
      do_send_supply_ready <= (entered & (state[S_REPORT_VCONN] | state[S_REPORT_SOURCE_ON]));
      do_send_sink_capabilities <= (entered & (state[S_GIVE_SINK_CAPABILITIES]));
      do_send_get_source_capabilities <= (entered & (state[S_GET_SOURCE_CAPABILITIES]));
      do_send_data_role_swap <= (entered & (state[S_ASK_DATA_ROLE_SWAP]));
      do_send_soft_reset <= (entered & (state[S_SEND_SOFT_RESET]));
      do_send_hard_reset <= (entered & (state[S_HARD_RESET]));
      do_reset_message_layer <= (entered & (state[S_DISCOVERY] | state[S_SEND_SOFT_RESET] |
          state[S_ACCEPT_SOFT_RESET]));
      do_take_new_power <= fire_31;
      do_reduce_power <= (entered & (state[S_TRANSITION_SINK] | state[S_ACCEPT_POWER_ROLE_SWAP]));
      do_go_to_default <= (entered & (state[S_TRANSITION_TO_DEFAULT] | state[S_ERROR_RECOVERY]));
      do_swap_data_role <= fire_59 | fire_61;
      do_supply_cable <= (entered & (state[S_TURN_ON_VCONN]));
      do_drop_cable <= fire_68;
      do_become_source <= (entered & (state[S_TURN_ON_SOURCE]));
      do_send_test_carrier <= (entered & (state[S_TEST_CARRIER_MODE]));
      do_forward_vendor_message <= fire_41;
      do_report_contract <= fire_31;
      do_report_refusal <= fire_25 | fire_26 | fire_62 | fire_63 | fire_64;
      set_receive_enabled <= ~(state[S_UNATTACHED] | state[S_DISCOVERY] | state[S_HARD_RESET] |
          state[S_TRANSITION_TO_DEFAULT] | state[S_TEST_CARRIER_MODE] | state[S_ERROR_RECOVERY]);
      set_draws_contract_power <= (state[S_READY] | state[S_GIVE_SINK_CAPABILITIES] |
          state[S_GET_SOURCE_CAPABILITIES] | state[S_SEND_NOT_SUPPORTED] | state[S_EVALUATE_DATA_ROLE_SWAP]
          | state[S_ACCEPT_DATA_ROLE_SWAP] | state[S_ASK_DATA_ROLE_SWAP] | state[S_REJECT_SWAP] |
          state[S_EVALUATE_VCONN_SWAP] | state[S_ACCEPT_VCONN_SWAP] | state[S_WAIT_FOR_VCONN] |
          state[S_TURN_ON_VCONN] | state[S_REPORT_VCONN] | state[S_EVALUATE_POWER_ROLE_SWAP]);
    end
endmodule

// The state table catalog/state-machines/message-receive.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/message-receive.toml style=ordinary" top=message_receive
module message_receive (
  input wire clk,
  input wire reset,
  input wire event_frame_received,
  input wire event_soft_reset_received,
  input wire event_acknowledge_received,
  input wire event_acknowledge_sent,
  input wire event_line_busy,
  input wire event_hard_reset_seen,
  input wire event_hard_reset_sent,
  input wire event_turn_round_timeout,
  input wire is_number_is_new,
  output reg [1:0] state,
  output reg do_send_acknowledge,
  output reg do_keep_number,
  output reg do_forget_number,
  output reg do_hand_on,
  output reg do_hand_on_soft_reset,
  output reg do_hand_on_acknowledge,
  output reg do_stop_sending,
  output reg do_report_lost,
  output reg run_turn_round
);
  localparam S_WAITING = 0;
  localparam S_ACKNOWLEDGING_NEW = 1;
  localparam S_ACKNOWLEDGING_AGAIN = 2;
  localparam S_ACKNOWLEDGING_SOFT_RESET = 3;

  reg entered;
  reg left;
  wire busy = event_frame_received | event_soft_reset_received | event_acknowledge_received | event_acknowledge_sent
      | event_line_busy | event_hard_reset_seen | event_hard_reset_sent;
  wire expired_turn_round = event_turn_round_timeout & run_turn_round;
  wire take_turn_round_timeout = expired_turn_round & ~busy;

  always @(posedge clk) begin
    left = 0;
    do_send_acknowledge <= 0;
    do_keep_number <= 0;
    do_forget_number <= 0;
    do_hand_on <= 0;
    do_hand_on_soft_reset <= 0;
    do_hand_on_acknowledge <= 0;
    do_stop_sending <= 0;
    do_report_lost <= 0;
    if (entered) case (state)
      S_ACKNOWLEDGING_NEW: begin
        do_send_acknowledge <= 1;
      end
      S_ACKNOWLEDGING_AGAIN: begin
        do_send_acknowledge <= 1;
      end
      S_ACKNOWLEDGING_SOFT_RESET: begin
        do_send_acknowledge <= 1;
      end
      default: ;
    endcase
    case (state)
      S_WAITING:
        (* parallel_case *) case (1'b1)
          event_frame_received: begin
            if (is_number_is_new) begin
              state <= S_ACKNOWLEDGING_NEW; left = 1;
            end
            else if (!is_number_is_new) begin
              state <= S_ACKNOWLEDGING_AGAIN; left = 1;
            end
          end
          event_soft_reset_received: begin
             begin
              do_forget_number <= 1;
              do_stop_sending <= 1;
              state <= S_ACKNOWLEDGING_SOFT_RESET; left = 1;
            end
          end
          event_acknowledge_received: begin
             begin
              do_hand_on_acknowledge <= 1;
            end
          end
          default: ;
        endcase
      S_ACKNOWLEDGING_NEW:
        (* parallel_case *) case (1'b1)
          event_acknowledge_sent: begin
             begin
              do_keep_number <= 1;
              do_hand_on <= 1;
              state <= S_WAITING; left = 1;
            end
          end
          default: ;
        endcase
      S_ACKNOWLEDGING_AGAIN:
        (* parallel_case *) case (1'b1)
          event_acknowledge_sent: begin
             begin
              state <= S_WAITING; left = 1;
            end
          end
          event_line_busy: begin
             begin
              state <= S_WAITING; left = 1;
            end
          end
          take_turn_round_timeout: begin
             begin
              state <= S_WAITING; left = 1;
            end
          end
          default: ;
        endcase
      S_ACKNOWLEDGING_SOFT_RESET:
        (* parallel_case *) case (1'b1)
          event_acknowledge_sent: begin
             begin
              do_keep_number <= 1;
              do_hand_on_soft_reset <= 1;
              state <= S_WAITING; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_line_busy: if (state != S_WAITING && state != S_ACKNOWLEDGING_AGAIN) begin
         begin
          do_report_lost <= 1;
          state <= S_WAITING; left = 1;
        end
      end
      event_hard_reset_seen: begin
         begin
          do_forget_number <= 1;
          state <= S_WAITING; left = 1;
        end
      end
      event_hard_reset_sent: begin
         begin
          do_forget_number <= 1;
          state <= S_WAITING; left = 1;
        end
      end
      take_turn_round_timeout: if (state != S_WAITING && state != S_ACKNOWLEDGING_AGAIN) begin
         begin
          do_report_lost <= 1;
          state <= S_WAITING; left = 1;
        end
      end
      default: ;
    endcase
    entered <= left;
    run_turn_round <= (state == S_ACKNOWLEDGING_NEW || state == S_ACKNOWLEDGING_AGAIN || state ==
        S_ACKNOWLEDGING_SOFT_RESET) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_send_acknowledge <= 0;
      do_keep_number <= 0;
      do_forget_number <= 0;
      do_hand_on <= 0;
      do_hand_on_soft_reset <= 0;
      do_hand_on_acknowledge <= 0;
      do_stop_sending <= 0;
      do_report_lost <= 0;
      run_turn_round <= 0;
    end
  end
endmodule

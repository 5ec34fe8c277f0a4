// The state table catalog/state-machines/message-transmit.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/message-transmit.toml style=ordinary" top=message_transmit
module message_transmit (
  input wire clk,
  input wire reset,
  input wire event_message_wanted,
  input wire event_soft_reset_wanted,
  input wire event_line_idle,
  input wire event_line_busy,
  input wire event_frame_sent,
  input wire event_acknowledge,
  input wire event_message_received,
  input wire event_hard_reset_wanted,
  input wire event_hard_reset_sent,
  input wire event_hard_reset_seen,
  input wire event_acknowledge_wait_timeout,
  input wire event_sink_wait_timeout,
  input wire is_number_fits,
  input wire is_may_start,
  output reg [2:0] state,
  output reg do_build_header,
  output reg do_send_frame,
  output reg do_send_hard_reset,
  output reg do_next_number,
  output reg do_clear_number,
  output reg do_report_sent,
  output reg do_report_failed,
  output reg do_report_discarded,
  output reg run_acknowledge_wait,
  output reg run_sink_wait
);
  localparam S_IDLE = 0;
  localparam S_WAITING_FOR_RESISTOR = 1;
  localparam S_WAITING_FOR_LINE = 2;
  localparam S_SENDING = 3;
  localparam S_WAITING_FOR_ACKNOWLEDGE = 4;
  localparam S_SENDING_HARD_RESET = 5;

  reg [1:0] count_retry;
  wire is_retries_exhausted = count_retry == 2;
  reg entered;
  reg left;
  wire busy = event_message_wanted | event_soft_reset_wanted | event_line_idle | event_line_busy | event_frame_sent
      | event_acknowledge | event_message_received | event_hard_reset_wanted | event_hard_reset_sent |
      event_hard_reset_seen;
  wire expired_acknowledge_wait = event_acknowledge_wait_timeout & run_acknowledge_wait;
  wire take_acknowledge_wait_timeout = expired_acknowledge_wait & ~busy;
  wire expired_sink_wait = event_sink_wait_timeout & run_sink_wait;
  wire take_sink_wait_timeout = expired_sink_wait & ~busy & ~expired_acknowledge_wait;

  always @(posedge clk) begin
    left = 0;
    do_build_header <= 0;
    do_send_frame <= 0;
    do_send_hard_reset <= 0;
    do_next_number <= 0;
    do_clear_number <= 0;
    do_report_sent <= 0;
    do_report_failed <= 0;
    do_report_discarded <= 0;
    if (entered) case (state)
      S_IDLE: begin
        count_retry <= 0;
      end
      S_SENDING_HARD_RESET: begin
        do_send_hard_reset <= 1;
      end
      default: ;
    endcase
    case (state)
      S_IDLE:
        (* parallel_case *) case (1'b1)
          event_message_wanted: begin
            if (is_may_start) begin
              do_build_header <= 1;
              state <= S_WAITING_FOR_LINE; left = 1;
            end
            else if (!is_may_start) begin
              do_build_header <= 1;
              state <= S_WAITING_FOR_RESISTOR; left = 1;
            end
          end
          event_soft_reset_wanted: begin
             begin
              do_clear_number <= 1;
              do_build_header <= 1;
              state <= S_WAITING_FOR_LINE; left = 1;
            end
          end
          event_hard_reset_seen: begin
             begin
              do_clear_number <= 1;
            end
          end
          default: ;
        endcase
      S_WAITING_FOR_RESISTOR:
        (* parallel_case *) case (1'b1)
          event_soft_reset_wanted: begin
             begin
              do_clear_number <= 1;
              do_build_header <= 1;
              state <= S_WAITING_FOR_LINE; left = 1;
            end
          end
          take_sink_wait_timeout: begin
            if (is_may_start) begin
              state <= S_WAITING_FOR_LINE; left = 1;
            end
            else if (!is_may_start) begin
              state <= S_WAITING_FOR_RESISTOR; left = 1;
            end
          end
          default: ;
        endcase
      S_WAITING_FOR_LINE:
        (* parallel_case *) case (1'b1)
          event_line_idle: begin
             begin
              do_send_frame <= 1;
              state <= S_SENDING; left = 1;
            end
          end
          default: ;
        endcase
      S_SENDING:
        (* parallel_case *) case (1'b1)
          event_line_busy: begin
             begin
              state <= S_WAITING_FOR_LINE; left = 1;
            end
          end
          event_frame_sent: begin
             begin
              state <= S_WAITING_FOR_ACKNOWLEDGE; left = 1;
            end
          end
          default: ;
        endcase
      S_WAITING_FOR_ACKNOWLEDGE:
        (* parallel_case *) case (1'b1)
          event_acknowledge: begin
            if (is_number_fits) begin
              do_next_number <= 1;
              do_report_sent <= 1;
              state <= S_IDLE; left = 1;
            end
            else if (!is_number_fits && !is_retries_exhausted) begin
              if (!is_retries_exhausted) count_retry <= count_retry + 1;
              state <= S_WAITING_FOR_LINE; left = 1;
            end
            else if (!is_number_fits && is_retries_exhausted) begin
              do_next_number <= 1;
              do_report_failed <= 1;
              state <= S_IDLE; left = 1;
            end
          end
          take_acknowledge_wait_timeout: begin
            if (!is_retries_exhausted) begin
              if (!is_retries_exhausted) count_retry <= count_retry + 1;
              state <= S_WAITING_FOR_LINE; left = 1;
            end
            else if (is_retries_exhausted) begin
              do_next_number <= 1;
              do_report_failed <= 1;
              state <= S_IDLE; left = 1;
            end
          end
          default: ;
        endcase
      S_SENDING_HARD_RESET:
        (* parallel_case *) case (1'b1)
          event_hard_reset_sent: begin
             begin
              do_clear_number <= 1;
              do_report_sent <= 1;
              state <= S_IDLE; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_message_received: if (state != S_IDLE && state != S_SENDING && state != S_SENDING_HARD_RESET) begin
         begin
          do_next_number <= 1;
          do_report_discarded <= 1;
          state <= S_IDLE; left = 1;
        end
      end
      event_hard_reset_wanted: if (state != S_SENDING_HARD_RESET) begin
         begin
          state <= S_SENDING_HARD_RESET; left = 1;
        end
      end
      event_hard_reset_seen: if (state != S_IDLE) begin
         begin
          do_clear_number <= 1;
          count_retry <= 0;
          state <= S_IDLE; left = 1;
        end
      end
      default: ;
    endcase
    entered <= left;
    run_acknowledge_wait <= (state == S_WAITING_FOR_ACKNOWLEDGE) & ~left;
    run_sink_wait <= (state == S_WAITING_FOR_RESISTOR) & ~left;
    if (reset) begin
      state <= 0;
      entered <= 1;
      do_build_header <= 0;
      do_send_frame <= 0;
      do_send_hard_reset <= 0;
      do_next_number <= 0;
      do_clear_number <= 0;
      do_report_sent <= 0;
      do_report_failed <= 0;
      do_report_discarded <= 0;
      run_acknowledge_wait <= 0;
      run_sink_wait <= 0;
      count_retry <= 0;
    end
  end
endmodule

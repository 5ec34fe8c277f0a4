// The state table catalog/state-machines/video-switch.toml as most sources are written: binary states, one clocked
// process, nested case statements, and what at least half of the states do alike in a case of its own behind them.
// At most one event is high in a clock; a timer's event is a level that is looked at while the timer runs and no
// other event comes.
// twin: block=state-machine settings="file=catalog/state-machines/video-switch.toml style=ordinary" top=video_switch
module video_switch (
  input wire clk,
  input wire reset,
  input wire event_attached,
  input wire event_detached,
  input wire event_isolate,
  input wire event_data_only,
  input wire event_two_lanes,
  input wire event_four_lanes,
  input wire event_plug_high,
  input wire event_plug_low,
  input wire event_plug_interrupt,
  input wire event_settle_timeout,
  input wire event_interrupt_pulse_timeout,
  input wire event_interrupt_gap_timeout,
  input wire is_is_flipped,
  output reg [3:0] state,
  output reg do_set_flip,
  output reg do_clear_flip,
  output reg do_report_safe,
  output reg do_report_set,
  output reg set_data_lanes,
  output reg set_video_pair_a,
  output reg set_video_pair_b,
  output reg set_auxiliary,
  output reg set_hot_plug,
  output reg run_settle,
  output reg run_interrupt_pulse,
  output reg run_interrupt_gap
);
  localparam S_OPEN = 0;
  localparam S_DATA = 1;
  localparam S_ISOLATING = 2;
  localparam S_SAFE = 3;
  localparam S_TWO_LANES_SETTLING = 4;
  localparam S_TWO_LANES_DARK = 5;
  localparam S_TWO_LANES_FRESH = 6;
  localparam S_TWO_LANES_LIT = 7;
  localparam S_TWO_LANES_INTERRUPT = 8;
  localparam S_FOUR_LANES_SETTLING = 9;
  localparam S_FOUR_LANES_DARK = 10;
  localparam S_FOUR_LANES_FRESH = 11;
  localparam S_FOUR_LANES_LIT = 12;
  localparam S_FOUR_LANES_INTERRUPT = 13;

  reg left;
  wire busy = event_attached | event_detached | event_isolate | event_data_only | event_two_lanes | event_four_lanes
      | event_plug_high | event_plug_low | event_plug_interrupt;
  wire expired_settle = event_settle_timeout & run_settle;
  wire take_settle_timeout = expired_settle & ~busy;
  wire expired_interrupt_pulse = event_interrupt_pulse_timeout & run_interrupt_pulse;
  wire take_interrupt_pulse_timeout = expired_interrupt_pulse & ~busy & ~expired_settle;
  wire expired_interrupt_gap = event_interrupt_gap_timeout & run_interrupt_gap;
  wire take_interrupt_gap_timeout = expired_interrupt_gap & ~busy & ~expired_settle & ~expired_interrupt_pulse;

  always @(posedge clk) begin
    left = 0;
    do_set_flip <= 0;
    do_clear_flip <= 0;
    do_report_safe <= 0;
    do_report_set <= 0;
    case (state)
      S_OPEN:
        (* parallel_case *) case (1'b1)
          event_attached: begin
            if (is_is_flipped) begin
              do_set_flip <= 1;
              state <= S_DATA; left = 1;
            end
            else if (!is_is_flipped) begin
              do_clear_flip <= 1;
              state <= S_DATA; left = 1;
            end
          end
          default: ;
        endcase
      S_DATA:
        (* parallel_case *) case (1'b1)
          event_two_lanes: begin
             begin
              state <= S_TWO_LANES_SETTLING; left = 1;
            end
          end
          event_four_lanes: begin
             begin
              state <= S_FOUR_LANES_SETTLING; left = 1;
            end
          end
          default: ;
        endcase
      S_ISOLATING:
        (* parallel_case *) case (1'b1)
          take_settle_timeout: begin
             begin
              do_report_safe <= 1;
              state <= S_SAFE; left = 1;
            end
          end
          default: ;
        endcase
      S_SAFE:
        (* parallel_case *) case (1'b1)
          event_data_only: begin
             begin
              state <= S_DATA; left = 1;
            end
          end
          event_two_lanes: begin
             begin
              state <= S_TWO_LANES_SETTLING; left = 1;
            end
          end
          event_four_lanes: begin
             begin
              state <= S_FOUR_LANES_SETTLING; left = 1;
            end
          end
          default: ;
        endcase
      S_TWO_LANES_SETTLING:
        (* parallel_case *) case (1'b1)
          take_settle_timeout: begin
             begin
              do_report_set <= 1;
              state <= S_TWO_LANES_DARK; left = 1;
            end
          end
          default: ;
        endcase
      S_TWO_LANES_DARK:
        (* parallel_case *) case (1'b1)
          event_four_lanes: begin
             begin
              state <= S_FOUR_LANES_SETTLING; left = 1;
            end
          end
          event_plug_high: begin
             begin
              state <= S_TWO_LANES_FRESH; left = 1;
            end
          end
          default: ;
        endcase
      S_TWO_LANES_FRESH:
        (* parallel_case *) case (1'b1)
          event_plug_low: begin
             begin
              state <= S_TWO_LANES_DARK; left = 1;
            end
          end
          take_interrupt_gap_timeout: begin
             begin
              state <= S_TWO_LANES_LIT; left = 1;
            end
          end
          default: ;
        endcase
      S_TWO_LANES_LIT:
        (* parallel_case *) case (1'b1)
          event_four_lanes: begin
             begin
              state <= S_FOUR_LANES_SETTLING; left = 1;
            end
          end
          event_plug_low: begin
             begin
              state <= S_TWO_LANES_DARK; left = 1;
            end
          end
          event_plug_interrupt: begin
             begin
              state <= S_TWO_LANES_INTERRUPT; left = 1;
            end
          end
          default: ;
        endcase
      S_TWO_LANES_INTERRUPT:
        (* parallel_case *) case (1'b1)
          event_plug_low: begin
             begin
              state <= S_TWO_LANES_DARK; left = 1;
            end
          end
          take_interrupt_pulse_timeout: begin
             begin
              state <= S_TWO_LANES_FRESH; left = 1;
            end
          end
          default: ;
        endcase
      S_FOUR_LANES_SETTLING:
        (* parallel_case *) case (1'b1)
          take_settle_timeout: begin
             begin
              do_report_set <= 1;
              state <= S_FOUR_LANES_DARK; left = 1;
            end
          end
          default: ;
        endcase
      S_FOUR_LANES_DARK:
        (* parallel_case *) case (1'b1)
          event_two_lanes: begin
             begin
              state <= S_TWO_LANES_SETTLING; left = 1;
            end
          end
          event_plug_high: begin
             begin
              state <= S_FOUR_LANES_FRESH; left = 1;
            end
          end
          default: ;
        endcase
      S_FOUR_LANES_FRESH:
        (* parallel_case *) case (1'b1)
          event_plug_low: begin
             begin
              state <= S_FOUR_LANES_DARK; left = 1;
            end
          end
          take_interrupt_gap_timeout: begin
             begin
              state <= S_FOUR_LANES_LIT; left = 1;
            end
          end
          default: ;
        endcase
      S_FOUR_LANES_LIT:
        (* parallel_case *) case (1'b1)
          event_two_lanes: begin
             begin
              state <= S_TWO_LANES_SETTLING; left = 1;
            end
          end
          event_plug_low: begin
             begin
              state <= S_FOUR_LANES_DARK; left = 1;
            end
          end
          event_plug_interrupt: begin
             begin
              state <= S_FOUR_LANES_INTERRUPT; left = 1;
            end
          end
          default: ;
        endcase
      S_FOUR_LANES_INTERRUPT:
        (* parallel_case *) case (1'b1)
          event_plug_low: begin
             begin
              state <= S_FOUR_LANES_DARK; left = 1;
            end
          end
          take_interrupt_pulse_timeout: begin
             begin
              state <= S_FOUR_LANES_FRESH; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    (* parallel_case *) case (1'b1)
      event_detached: if (state != S_OPEN) begin
         begin
          state <= S_OPEN; left = 1;
        end
      end
      event_isolate: if (state != S_OPEN && state != S_ISOLATING) begin
         begin
          state <= S_ISOLATING; left = 1;
        end
      end
      default: ;
    endcase
    set_data_lanes <= state == S_DATA || state == S_TWO_LANES_SETTLING || state == S_TWO_LANES_DARK || state ==
        S_TWO_LANES_FRESH || state == S_TWO_LANES_LIT || state == S_TWO_LANES_INTERRUPT;
    set_video_pair_a <= state == S_TWO_LANES_SETTLING || state == S_TWO_LANES_DARK || state == S_TWO_LANES_FRESH ||
        state == S_TWO_LANES_LIT || state == S_TWO_LANES_INTERRUPT || state == S_FOUR_LANES_SETTLING || state ==
        S_FOUR_LANES_DARK || state == S_FOUR_LANES_FRESH || state == S_FOUR_LANES_LIT || state ==
        S_FOUR_LANES_INTERRUPT;
    set_video_pair_b <= state == S_FOUR_LANES_SETTLING || state == S_FOUR_LANES_DARK || state == S_FOUR_LANES_FRESH
        || state == S_FOUR_LANES_LIT || state == S_FOUR_LANES_INTERRUPT;
    set_auxiliary <= state == S_TWO_LANES_SETTLING || state == S_TWO_LANES_DARK || state == S_TWO_LANES_FRESH ||
        state == S_TWO_LANES_LIT || state == S_TWO_LANES_INTERRUPT || state == S_FOUR_LANES_SETTLING || state ==
        S_FOUR_LANES_DARK || state == S_FOUR_LANES_FRESH || state == S_FOUR_LANES_LIT || state ==
        S_FOUR_LANES_INTERRUPT;
    set_hot_plug <= state == S_TWO_LANES_FRESH || state == S_TWO_LANES_LIT || state == S_FOUR_LANES_FRESH || state
        == S_FOUR_LANES_LIT;
    run_settle <= (state == S_ISOLATING || state == S_TWO_LANES_SETTLING || state == S_FOUR_LANES_SETTLING) & ~left;
    run_interrupt_pulse <= (state == S_TWO_LANES_INTERRUPT || state == S_FOUR_LANES_INTERRUPT) & ~left;
    run_interrupt_gap <= (state == S_TWO_LANES_FRESH || state == S_FOUR_LANES_FRESH) & ~left;
    if (reset) begin
      state <= 0;
      do_set_flip <= 0;
      do_clear_flip <= 0;
      do_report_safe <= 0;
      do_report_set <= 0;
      set_data_lanes <= 0;
      set_video_pair_a <= 0;
      set_video_pair_b <= 0;
      set_auxiliary <= 0;
      set_hot_plug <= 0;
      run_settle <= 0;
      run_interrupt_pulse <= 0;
      run_interrupt_gap <= 0;
    end
  end
endmodule

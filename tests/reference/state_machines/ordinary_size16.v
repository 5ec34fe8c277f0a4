// The machine that stands for 16 states, 8 inputs, 16 outputs and 60 transitions, written as nested case statements.
// The synthesiser chooses the code of the states: one bit for each, up to 32 states.
// twin: block=state-machine settings="states=16 inputs=8 outputs=16 transitions=60 encoding=one-hot" top=sized_machine16
module sized_machine16 (
  input wire clk,
  input wire reset,
  input wire event_step,
  input wire is_input_1,
  input wire is_input_2,
  input wire is_input_3,
  input wire is_input_4,
  input wire is_input_5,
  input wire is_input_6,
  input wire is_input_7,
  output reg do_strobe_8,
  output reg do_strobe_9,
  output reg do_strobe_10,
  output reg do_strobe_11,
  output reg do_strobe_12,
  output reg do_strobe_13,
  output reg do_strobe_14,
  output reg do_strobe_15,
  output reg set_level_0,
  output reg set_level_1,
  output reg set_level_2,
  output reg set_level_3,
  output reg set_level_4,
  output reg set_level_5,
  output reg set_level_6,
  output reg set_level_7
);
  reg [3:0] state;
  localparam S_S0 = 0;
  localparam S_S1 = 1;
  localparam S_S2 = 2;
  localparam S_S3 = 3;
  localparam S_S4 = 4;
  localparam S_S5 = 5;
  localparam S_S6 = 6;
  localparam S_S7 = 7;
  localparam S_S8 = 8;
  localparam S_S9 = 9;
  localparam S_S10 = 10;
  localparam S_S11 = 11;
  localparam S_S12 = 12;
  localparam S_S13 = 13;
  localparam S_S14 = 14;
  localparam S_S15 = 15;

  reg left;

  always @(posedge clk) begin
    left = 0;
    do_strobe_8 <= 0;
    do_strobe_9 <= 0;
    do_strobe_10 <= 0;
    do_strobe_11 <= 0;
    do_strobe_12 <= 0;
    do_strobe_13 <= 0;
    do_strobe_14 <= 0;
    do_strobe_15 <= 0;
    case (state)
      S_S0:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && !is_input_5) begin
              do_strobe_9 <= 1;
              do_strobe_11 <= 1;
              do_strobe_12 <= 1;
              state <= S_S1; left = 1;
            end
            else if (is_input_2 && is_input_3) begin
              do_strobe_9 <= 1;
              do_strobe_12 <= 1;
              do_strobe_14 <= 1;
              state <= S_S4; left = 1;
            end
            else if (!is_input_4 && is_input_7) begin
              state <= S_S0; left = 1;
            end
            else if (is_input_4 && is_input_6) begin
              do_strobe_10 <= 1;
              do_strobe_13 <= 1;
              state <= S_S14; left = 1;
            end
            else if (is_input_1 && !is_input_3) begin
              do_strobe_10 <= 1;
              state <= S_S1; left = 1;
            end
            else if (!is_input_3) begin
              do_strobe_9 <= 1;
              state <= S_S2; left = 1;
            end
            else if (is_input_4) begin
              state <= S_S8; left = 1;
            end
          end
          default: ;
        endcase
      S_S1:
        (* parallel_case *) case (1'b1)
          event_step: begin
             begin
              do_strobe_9 <= 1;
              state <= S_S2; left = 1;
            end
          end
          default: ;
        endcase
      S_S2:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1) begin
              do_strobe_9 <= 1;
              do_strobe_10 <= 1;
              do_strobe_11 <= 1;
              state <= S_S3; left = 1;
            end
            else begin
              do_strobe_11 <= 1;
              state <= S_S13; left = 1;
            end
          end
          default: ;
        endcase
      S_S3:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_4 && is_input_6) begin
              do_strobe_12 <= 1;
              state <= S_S8; left = 1;
            end
            else if (is_input_3 && !is_input_6 && is_input_7) begin
              state <= S_S0; left = 1;
            end
            else if (is_input_2 && is_input_5) begin
              do_strobe_12 <= 1;
              do_strobe_13 <= 1;
              state <= S_S11; left = 1;
            end
            else begin
              do_strobe_12 <= 1;
              state <= S_S9; left = 1;
            end
          end
          default: ;
        endcase
      S_S4:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_1 && !is_input_4) begin
              do_strobe_8 <= 1;
              state <= S_S5; left = 1;
            end
            else if (is_input_4 && !is_input_5) begin
              do_strobe_13 <= 1;
              state <= S_S2; left = 1;
            end
            else if (is_input_1) begin
              do_strobe_13 <= 1;
              do_strobe_14 <= 1;
              state <= S_S10; left = 1;
            end
          end
          default: ;
        endcase
      S_S5:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_7) begin
              state <= S_S6; left = 1;
            end
            else if (is_input_6 && !is_input_7) begin
              do_strobe_15 <= 1;
              state <= S_S15; left = 1;
            end
            else if (is_input_3 && is_input_5 && !is_input_7) begin
              do_strobe_10 <= 1;
              do_strobe_15 <= 1;
              state <= S_S12; left = 1;
            end
          end
          default: ;
        endcase
      S_S6:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1 && is_input_3) begin
              do_strobe_13 <= 1;
              do_strobe_15 <= 1;
              state <= S_S7; left = 1;
            end
            else if (!is_input_1 && is_input_5) begin
              do_strobe_14 <= 1;
              state <= S_S13; left = 1;
            end
            else if (!is_input_5 && is_input_6 && !is_input_7) begin
              do_strobe_13 <= 1;
              do_strobe_14 <= 1;
              state <= S_S11; left = 1;
            end
            else if (is_input_4) begin
              do_strobe_9 <= 1;
              state <= S_S5; left = 1;
            end
          end
          default: ;
        endcase
      S_S7:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2 && is_input_5 && is_input_7) begin
              state <= S_S12; left = 1;
            end
            else if (is_input_4 && is_input_7) begin
              do_strobe_9 <= 1;
              do_strobe_14 <= 1;
              state <= S_S1; left = 1;
            end
            else begin
              state <= S_S10; left = 1;
            end
          end
          default: ;
        endcase
      S_S8:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1 && is_input_3 && !is_input_4) begin
              do_strobe_9 <= 1;
              do_strobe_14 <= 1;
              state <= S_S9; left = 1;
            end
            else if (!is_input_2) begin
              do_strobe_9 <= 1;
              do_strobe_12 <= 1;
              do_strobe_15 <= 1;
              state <= S_S8; left = 1;
            end
            else if (!is_input_1 && !is_input_5 && is_input_7) begin
              do_strobe_9 <= 1;
              do_strobe_12 <= 1;
              do_strobe_15 <= 1;
              state <= S_S11; left = 1;
            end
            else if (is_input_1 && !is_input_3 && is_input_4) begin
              do_strobe_8 <= 1;
              do_strobe_14 <= 1;
              state <= S_S15; left = 1;
            end
            else if (is_input_4 && is_input_5) begin
              do_strobe_9 <= 1;
              do_strobe_10 <= 1;
              do_strobe_13 <= 1;
              state <= S_S9; left = 1;
            end
          end
          default: ;
        endcase
      S_S9:
        (* parallel_case *) case (1'b1)
          event_step: begin
             begin
              do_strobe_12 <= 1;
              state <= S_S10; left = 1;
            end
          end
          default: ;
        endcase
      S_S10:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_3 && !is_input_4) begin
              do_strobe_8 <= 1;
              do_strobe_9 <= 1;
              state <= S_S11; left = 1;
            end
            else if (is_input_1 && !is_input_2) begin
              do_strobe_9 <= 1;
              do_strobe_14 <= 1;
              state <= S_S6; left = 1;
            end
            else if (!is_input_2) begin
              do_strobe_9 <= 1;
              do_strobe_11 <= 1;
              do_strobe_13 <= 1;
              state <= S_S8; left = 1;
            end
            else if (!is_input_4 && is_input_6 && is_input_7) begin
              do_strobe_11 <= 1;
              do_strobe_12 <= 1;
              state <= S_S8; left = 1;
            end
            else if (!is_input_1 && is_input_5) begin
              state <= S_S11; left = 1;
            end
          end
          default: ;
        endcase
      S_S11:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2) begin
              do_strobe_9 <= 1;
              do_strobe_14 <= 1;
              do_strobe_15 <= 1;
              state <= S_S12; left = 1;
            end
            else if (is_input_6) begin
              do_strobe_9 <= 1;
              do_strobe_10 <= 1;
              do_strobe_12 <= 1;
              state <= S_S12; left = 1;
            end
            else begin
              do_strobe_11 <= 1;
              state <= S_S9; left = 1;
            end
          end
          default: ;
        endcase
      S_S12:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_4 && is_input_5) begin
              do_strobe_10 <= 1;
              state <= S_S13; left = 1;
            end
            else if (is_input_5) begin
              do_strobe_8 <= 1;
              do_strobe_9 <= 1;
              state <= S_S5; left = 1;
            end
            else if (!is_input_7) begin
              do_strobe_11 <= 1;
              state <= S_S5; left = 1;
            end
            else if (is_input_2 && !is_input_6) begin
              do_strobe_9 <= 1;
              do_strobe_11 <= 1;
              state <= S_S10; left = 1;
            end
          end
          default: ;
        endcase
      S_S13:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1 && !is_input_4 && is_input_5) begin
              do_strobe_10 <= 1;
              state <= S_S14; left = 1;
            end
            else if (!is_input_4) begin
              do_strobe_10 <= 1;
              do_strobe_13 <= 1;
              state <= S_S3; left = 1;
            end
            else if (!is_input_1 && is_input_3 && is_input_4) begin
              do_strobe_10 <= 1;
              state <= S_S0; left = 1;
            end
          end
          default: ;
        endcase
      S_S14:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_7) begin
              do_strobe_10 <= 1;
              do_strobe_13 <= 1;
              state <= S_S15; left = 1;
            end
            else if (is_input_5) begin
              do_strobe_13 <= 1;
              do_strobe_14 <= 1;
              state <= S_S0; left = 1;
            end
            else if (is_input_1) begin
              do_strobe_14 <= 1;
              state <= S_S1; left = 1;
            end
            else if (is_input_3) begin
              do_strobe_9 <= 1;
              do_strobe_12 <= 1;
              do_strobe_13 <= 1;
              state <= S_S13; left = 1;
            end
            else if (is_input_2 && !is_input_5 && is_input_6) begin
              do_strobe_9 <= 1;
              state <= S_S11; left = 1;
            end
          end
          default: ;
        endcase
      S_S15:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_2 && is_input_6) begin
              do_strobe_14 <= 1;
              state <= S_S0; left = 1;
            end
            else if (is_input_2 && !is_input_4 && is_input_5) begin
              do_strobe_11 <= 1;
              state <= S_S10; left = 1;
            end
            else if (is_input_1 && is_input_2 && is_input_7) begin
              do_strobe_10 <= 1;
              state <= S_S13; left = 1;
            end
            else if (!is_input_2) begin
              do_strobe_9 <= 1;
              do_strobe_13 <= 1;
              state <= S_S13; left = 1;
            end
            else if (is_input_4 && !is_input_5 && !is_input_7) begin
              state <= S_S0; left = 1;
            end
            else if (!is_input_5 && is_input_7) begin
              do_strobe_8 <= 1;
              do_strobe_9 <= 1;
              state <= S_S1; left = 1;
            end
            else if (!is_input_1 && is_input_3) begin
              do_strobe_11 <= 1;
              do_strobe_13 <= 1;
              state <= S_S10; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    set_level_0 <= state == S_S0 || state == S_S3 || state == S_S8 || state == S_S10 || state == S_S11 || state ==
        S_S12 || state == S_S13;
    set_level_1 <= state == S_S0 || state == S_S2 || state == S_S3 || state == S_S6 || state == S_S7 || state ==
        S_S11 || state == S_S12 || state == S_S14 || state == S_S15;
    set_level_2 <= state == S_S0 || state == S_S2 || state == S_S3 || state == S_S4 || state == S_S5 || state ==
        S_S14;
    set_level_3 <= state == S_S1 || state == S_S2 || state == S_S3 || state == S_S7 || state == S_S8 || state ==
        S_S11 || state == S_S12 || state == S_S15;
    set_level_4 <= state == S_S3 || state == S_S7 || state == S_S9 || state == S_S10 || state == S_S11;
    set_level_5 <= state == S_S1 || state == S_S3 || state == S_S4 || state == S_S6 || state == S_S9 || state ==
        S_S13;
    set_level_6 <= state == S_S1 || state == S_S6 || state == S_S9 || state == S_S14;
    set_level_7 <= state == S_S2 || state == S_S4 || state == S_S7 || state == S_S9 || state == S_S12 || state ==
        S_S13 || state == S_S14;
    if (reset) begin
      state <= 0;
      do_strobe_8 <= 0;
      do_strobe_9 <= 0;
      do_strobe_10 <= 0;
      do_strobe_11 <= 0;
      do_strobe_12 <= 0;
      do_strobe_13 <= 0;
      do_strobe_14 <= 0;
      do_strobe_15 <= 0;
      set_level_0 <= 1;
      set_level_1 <= 1;
      set_level_2 <= 1;
      set_level_3 <= 0;
      set_level_4 <= 0;
      set_level_5 <= 0;
      set_level_6 <= 0;
      set_level_7 <= 0;
    end
  end
endmodule

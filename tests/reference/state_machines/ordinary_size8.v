// The machine that stands for 8 states, 8 inputs, 8 outputs and 20 transitions, written as nested case statements.
// The synthesiser chooses the code of the states: one bit for each, up to 32 states.
// twin: block=state-machine settings="states=8 inputs=8 outputs=8 transitions=20 encoding=one-hot" top=sized_machine8
module sized_machine8 (
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
  output reg do_strobe_4,
  output reg do_strobe_5,
  output reg do_strobe_6,
  output reg do_strobe_7,
  output reg set_level_0,
  output reg set_level_1,
  output reg set_level_2,
  output reg set_level_3
);
  reg [2:0] state;
  localparam S_S0 = 0;
  localparam S_S1 = 1;
  localparam S_S2 = 2;
  localparam S_S3 = 3;
  localparam S_S4 = 4;
  localparam S_S5 = 5;
  localparam S_S6 = 6;
  localparam S_S7 = 7;

  reg left;

  always @(posedge clk) begin
    left = 0;
    do_strobe_4 <= 0;
    do_strobe_5 <= 0;
    do_strobe_6 <= 0;
    do_strobe_7 <= 0;
    case (state)
      S_S0:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_1 && is_input_6 && is_input_7) begin
              do_strobe_5 <= 1;
              state <= S_S1; left = 1;
            end
            else begin
              do_strobe_4 <= 1;
              state <= S_S6; left = 1;
            end
          end
          default: ;
        endcase
      S_S1:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2 && !is_input_4) begin
              do_strobe_6 <= 1;
              state <= S_S2; left = 1;
            end
            else if (is_input_1 && is_input_7) begin
              do_strobe_5 <= 1;
              state <= S_S1; left = 1;
            end
          end
          default: ;
        endcase
      S_S2:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_5 && is_input_7) begin
              do_strobe_4 <= 1;
              state <= S_S3; left = 1;
            end
            else if (is_input_6) begin
              state <= S_S4; left = 1;
            end
          end
          default: ;
        endcase
      S_S3:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && !is_input_6) begin
              do_strobe_7 <= 1;
              state <= S_S4; left = 1;
            end
            else if (!is_input_7) begin
              do_strobe_6 <= 1;
              state <= S_S5; left = 1;
            end
            else begin
              do_strobe_7 <= 1;
              state <= S_S4; left = 1;
            end
          end
          default: ;
        endcase
      S_S4:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_5 && !is_input_7) begin
              do_strobe_7 <= 1;
              state <= S_S5; left = 1;
            end
            else if (is_input_1) begin
              do_strobe_4 <= 1;
              state <= S_S6; left = 1;
            end
            else if (!is_input_2 && is_input_3) begin
              state <= S_S6; left = 1;
            end
            else if (!is_input_1 && !is_input_4) begin
              do_strobe_4 <= 1;
              state <= S_S6; left = 1;
            end
          end
          default: ;
        endcase
      S_S5:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_5) begin
              do_strobe_4 <= 1;
              do_strobe_5 <= 1;
              state <= S_S6; left = 1;
            end
            else if (!is_input_5 && is_input_7) begin
              state <= S_S4; left = 1;
            end
            else begin
              state <= S_S4; left = 1;
            end
          end
          default: ;
        endcase
      S_S6:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_2 && is_input_4) begin
              state <= S_S7; left = 1;
            end
            else if (!is_input_1 && is_input_6) begin
              state <= S_S7; left = 1;
            end
            else begin
              do_strobe_5 <= 1;
              do_strobe_6 <= 1;
              state <= S_S1; left = 1;
            end
          end
          default: ;
        endcase
      S_S7:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_1 && !is_input_6 && is_input_7) begin
              state <= S_S0; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    set_level_0 <= state == S_S0 || state == S_S3 || state == S_S6 || state == S_S7;
    set_level_1 <= state == S_S0 || state == S_S3 || state == S_S5;
    set_level_2 <= state == S_S5 || state == S_S6;
    set_level_3 <= state == S_S2 || state == S_S6;
    if (reset) begin
      state <= 0;
      do_strobe_4 <= 0;
      do_strobe_5 <= 0;
      do_strobe_6 <= 0;
      do_strobe_7 <= 0;
      set_level_0 <= 1;
      set_level_1 <= 1;
      set_level_2 <= 0;
      set_level_3 <= 0;
    end
  end
endmodule

// The machine that stands for 33 states, 12 inputs, 1 outputs and 90 transitions, written as nested case statements.
// The synthesiser chooses the code of the states: binary, for more than 32 states.
// twin: block=state-machine settings="states=33 inputs=12 outputs=1 transitions=90 encoding=binary" top=sized_machine33
module sized_machine33 (
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
  input wire is_input_8,
  input wire is_input_9,
  input wire is_input_10,
  input wire is_input_11,
  output reg set_level_0
);
  reg [5:0] state;
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
  localparam S_S16 = 16;
  localparam S_S17 = 17;
  localparam S_S18 = 18;
  localparam S_S19 = 19;
  localparam S_S20 = 20;
  localparam S_S21 = 21;
  localparam S_S22 = 22;
  localparam S_S23 = 23;
  localparam S_S24 = 24;
  localparam S_S25 = 25;
  localparam S_S26 = 26;
  localparam S_S27 = 27;
  localparam S_S28 = 28;
  localparam S_S29 = 29;
  localparam S_S30 = 30;
  localparam S_S31 = 31;
  localparam S_S32 = 32;

  reg left;

  always @(posedge clk) begin
    left = 0;
    case (state)
      S_S0:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_9) begin
              state <= S_S1; left = 1;
            end
            else begin
              state <= S_S28; left = 1;
            end
          end
          default: ;
        endcase
      S_S1:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && is_input_7 && !is_input_9) begin
              state <= S_S2; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S12; left = 1;
            end
            else if (!is_input_4 && !is_input_5 && !is_input_7) begin
              state <= S_S6; left = 1;
            end
          end
          default: ;
        endcase
      S_S2:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && is_input_10) begin
              state <= S_S3; left = 1;
            end
            else if (!is_input_1) begin
              state <= S_S4; left = 1;
            end
            else if (is_input_2) begin
              state <= S_S21; left = 1;
            end
            else if (is_input_1 && is_input_8) begin
              state <= S_S3; left = 1;
            end
            else begin
              state <= S_S8; left = 1;
            end
          end
          default: ;
        endcase
      S_S3:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_2 && is_input_4 && is_input_7) begin
              state <= S_S25; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S15; left = 1;
            end
            else if (is_input_4 && is_input_11) begin
              state <= S_S8; left = 1;
            end
          end
          default: ;
        endcase
      S_S4:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_7) begin
              state <= S_S5; left = 1;
            end
            else begin
              state <= S_S27; left = 1;
            end
          end
          default: ;
        endcase
      S_S5:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2) begin
              state <= S_S6; left = 1;
            end
            else if (is_input_5) begin
              state <= S_S14; left = 1;
            end
            else if (is_input_3) begin
              state <= S_S32; left = 1;
            end
          end
          default: ;
        endcase
      S_S6:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1 && is_input_10) begin
              state <= S_S7; left = 1;
            end
          end
          default: ;
        endcase
      S_S7:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_10) begin
              state <= S_S8; left = 1;
            end
          end
          default: ;
        endcase
      S_S8:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_6) begin
              state <= S_S9; left = 1;
            end
            else if (is_input_10) begin
              state <= S_S10; left = 1;
            end
            else if (is_input_4) begin
              state <= S_S21; left = 1;
            end
          end
          default: ;
        endcase
      S_S9:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && !is_input_6 && !is_input_7) begin
              state <= S_S2; left = 1;
            end
            else if (!is_input_1 && is_input_6 && !is_input_8) begin
              state <= S_S0; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S29; left = 1;
            end
            else if (is_input_2) begin
              state <= S_S5; left = 1;
            end
          end
          default: ;
        endcase
      S_S10:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_11) begin
              state <= S_S11; left = 1;
            end
          end
          default: ;
        endcase
      S_S11:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1 && !is_input_5) begin
              state <= S_S0; left = 1;
            end
          end
          default: ;
        endcase
      S_S12:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_5 && is_input_7 && !is_input_8) begin
              state <= S_S13; left = 1;
            end
            else if (!is_input_6) begin
              state <= S_S29; left = 1;
            end
            else if (!is_input_11) begin
              state <= S_S4; left = 1;
            end
            else if (!is_input_3 && is_input_11) begin
              state <= S_S27; left = 1;
            end
          end
          default: ;
        endcase
      S_S13:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_7) begin
              state <= S_S14; left = 1;
            end
            else if (is_input_9 && is_input_11) begin
              state <= S_S24; left = 1;
            end
            else if (!is_input_1 && is_input_6) begin
              state <= S_S28; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S21; left = 1;
            end
          end
          default: ;
        endcase
      S_S14:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_10) begin
              state <= S_S15; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S12; left = 1;
            end
            else if (is_input_2) begin
              state <= S_S26; left = 1;
            end
            else if (is_input_5) begin
              state <= S_S27; left = 1;
            end
            else if (is_input_3 && is_input_6 && is_input_7) begin
              state <= S_S19; left = 1;
            end
            else if (is_input_11) begin
              state <= S_S32; left = 1;
            end
            else if (!is_input_3 && is_input_4) begin
              state <= S_S12; left = 1;
            end
          end
          default: ;
        endcase
      S_S15:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_1) begin
              state <= S_S16; left = 1;
            end
            else if (is_input_4 && !is_input_6) begin
              state <= S_S21; left = 1;
            end
            else if (is_input_3) begin
              state <= S_S6; left = 1;
            end
            else if (!is_input_2 && !is_input_7 && !is_input_8) begin
              state <= S_S3; left = 1;
            end
          end
          default: ;
        endcase
      S_S16:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_10) begin
              state <= S_S17; left = 1;
            end
            else if (is_input_5 && is_input_9 && is_input_11) begin
              state <= S_S26; left = 1;
            end
          end
          default: ;
        endcase
      S_S17:
        (* parallel_case *) case (1'b1)
          event_step: begin
             begin
              state <= S_S18; left = 1;
            end
          end
          default: ;
        endcase
      S_S18:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_10) begin
              state <= S_S19; left = 1;
            end
            else if (is_input_2 && is_input_3 && is_input_9) begin
              state <= S_S24; left = 1;
            end
          end
          default: ;
        endcase
      S_S19:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_11) begin
              state <= S_S20; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S25; left = 1;
            end
          end
          default: ;
        endcase
      S_S20:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_9) begin
              state <= S_S21; left = 1;
            end
            else if (is_input_11) begin
              state <= S_S3; left = 1;
            end
            else if (!is_input_2) begin
              state <= S_S9; left = 1;
            end
            else if (!is_input_1 && !is_input_3) begin
              state <= S_S12; left = 1;
            end
            else if (is_input_6 && !is_input_9) begin
              state <= S_S2; left = 1;
            end
          end
          default: ;
        endcase
      S_S21:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_4) begin
              state <= S_S22; left = 1;
            end
            else if (is_input_3 && !is_input_6 && is_input_11) begin
              state <= S_S5; left = 1;
            end
            else if (is_input_1 && !is_input_10) begin
              state <= S_S21; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S32; left = 1;
            end
          end
          default: ;
        endcase
      S_S22:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_4) begin
              state <= S_S23; left = 1;
            end
            else if (!is_input_10) begin
              state <= S_S1; left = 1;
            end
            else if (is_input_2 && is_input_11) begin
              state <= S_S24; left = 1;
            end
            else if (is_input_6 && !is_input_7 && is_input_10) begin
              state <= S_S31; left = 1;
            end
            else if (!is_input_4 && !is_input_5) begin
              state <= S_S19; left = 1;
            end
          end
          default: ;
        endcase
      S_S23:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_9) begin
              state <= S_S24; left = 1;
            end
            else if (is_input_5 && is_input_11) begin
              state <= S_S25; left = 1;
            end
            else if (is_input_3 && is_input_4) begin
              state <= S_S22; left = 1;
            end
          end
          default: ;
        endcase
      S_S24:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2) begin
              state <= S_S0; left = 1;
            end
            else if (is_input_4 && is_input_10) begin
              state <= S_S15; left = 1;
            end
            else if (!is_input_2 && is_input_4 && is_input_5) begin
              state <= S_S19; left = 1;
            end
            else if (!is_input_1) begin
              state <= S_S3; left = 1;
            end
          end
          default: ;
        endcase
      S_S25:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (!is_input_9) begin
              state <= S_S26; left = 1;
            end
            else if (!is_input_3 && is_input_9) begin
              state <= S_S23; left = 1;
            end
            else if (is_input_5) begin
              state <= S_S11; left = 1;
            end
          end
          default: ;
        endcase
      S_S26:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2) begin
              state <= S_S32; left = 1;
            end
          end
          default: ;
        endcase
      S_S27:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_8) begin
              state <= S_S28; left = 1;
            end
            else if (!is_input_6 && is_input_9) begin
              state <= S_S3; left = 1;
            end
          end
          default: ;
        endcase
      S_S28:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_11) begin
              state <= S_S29; left = 1;
            end
            else if (is_input_3) begin
              state <= S_S29; left = 1;
            end
          end
          default: ;
        endcase
      S_S29:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && !is_input_9) begin
              state <= S_S30; left = 1;
            end
          end
          default: ;
        endcase
      S_S30:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_2) begin
              state <= S_S31; left = 1;
            end
          end
          default: ;
        endcase
      S_S31:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_7) begin
              state <= S_S32; left = 1;
            end
            else begin
              state <= S_S7; left = 1;
            end
          end
          default: ;
        endcase
      S_S32:
        (* parallel_case *) case (1'b1)
          event_step: begin
            if (is_input_3 && is_input_7) begin
              state <= S_S17; left = 1;
            end
            else if (is_input_1) begin
              state <= S_S26; left = 1;
            end
          end
          default: ;
        endcase
      default: ;
    endcase
    set_level_0 <= state == S_S8 || state == S_S10 || state == S_S11 || state == S_S12 || state == S_S14 || state ==
        S_S15 || state == S_S19 || state == S_S25 || state == S_S26 || state == S_S27 || state == S_S30 || state ==
        S_S32;
    if (reset) begin
      state <= 0;
      set_level_0 <= 0;
    end
  end
endmodule

// Register bank: 16 registers of 8 bits, 8 of them writable, registered read multiplexer.
// twin: block=register-bank settings="registers=16 bits=8 writable=8" top=register_bank16
module register_bank16(input clk, input reset, input [3:0] address, input write, input [7:0] write_data,
                       input read, input [63:0] status, output [63:0] registers,
                       output reg [7:0] read_data, output reg read_valid);
  reg [7:0] file [0:7];
  integer i;
  genvar g;
  generate for (g = 0; g < 8; g = g + 1) assign registers[8*g +: 8] = file[g]; endgenerate
  always @(posedge clk) begin
    read_valid <= read;
    for (i = 0; i < 8; i = i + 1)
      if (write && address == i) file[i] <= write_data;
    if (read) begin
      if (address[3]) read_data <= status[8*address[2:0] +: 8];
      else read_data <= registers[8*address[2:0] +: 8];
    end
    if (reset) begin
      for (i = 0; i < 8; i = i + 1) file[i] <= 0;
      read_data <= 0;
      read_valid <= 0;
    end
  end
endmodule

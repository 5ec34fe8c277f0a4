#include "logic/cover/pack.hpp"

#include <catch2/catch.hpp>

#include "logic/network/word.hpp"
#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

Network counter(std::size_t bits) {
  Network net;
  const Bit tick = add_input(net, "tick");
  const Bit clear = add_input(net, "clear");
  const Word count = add_registers(net, "count", bits);
  connect(count, select(clear, constant_word(net, 0, bits), select(tick, count + 1U, count)));
  add_output(count, "count");
  return net;
}

FabricCount count(const Network& net, const Fabric& fabric) {
  const Fitted fitted = fit(net, fabric);
  REQUIRE(difference(fitted.network, fitted.cover) == "");
  return fitted.count;
}

}  // namespace

TEST_CASE("a shift register takes one cell for each bit and no LUT") {
  Network net;
  Bit bit = add_input(net, "in");
  for (unsigned i = 0; i < 4; ++i) bit = registered("stage" + std::to_string(i), bit);
  add_output(bit, "out");
  const FabricCount counted = count(net, {});
  CHECK(counted.cells == 4);
  CHECK(counted.luts == 0);
  CHECK(counted.registers == 4);
  CHECK(counted.control_sets == 1);
}

TEST_CASE("a counter takes a cell for each bit on a carry chain and one for its shared enable") {
  const FabricCount counted = count(counter(8), {.carry_chain = CarryChain::dedicated});
  CHECK(counted.registers == 8);
  CHECK(counted.carry_bits == 7);
  CHECK(counted.cells == 9);
  CHECK(counted.control_sets == 1);
  // The same in yosys 0.23 `synth -lut 4` without carry chains [C]: 8 registers, 10 LUTs; -lut 6: 9 LUTs.
  CHECK(count(counter(8), {.lut_inputs = 4, .carry_chain = CarryChain::none}).luts <= 11);
  CHECK(count(counter(8), {.lut_inputs = 6, .carry_chain = CarryChain::none}).luts <= 10);
}

TEST_CASE("plain registers pay for enable and reset in LUTs") {
  const FabricCount rich = count(counter(8), {.carry_chain = CarryChain::dedicated});
  const FabricCount plain =
      count(counter(8), {.carry_chain = CarryChain::dedicated, .register_style = RegisterStyle::plain});
  CHECK(plain.control_sets == 1);
  CHECK(plain.luts > rich.luts);
}

TEST_CASE("a LUT with other readers leaves its register a cell of its own") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  add_output(registered("q", a & b), "q");
  const FabricCount alone = count(net, {});
  CHECK(alone.cells == 1);
  CHECK(alone.shared_cells == 1);
  add_output(a & b, "also");
  const FabricCount shared = count(net, {});
  CHECK(shared.cells == 2);
  CHECK(shared.register_only_cells == 1);
}

TEST_CASE("memories go to block RAM or registers by the fabric's rules") {
  const auto make = [](std::uint32_t words, std::uint32_t bits, ReadStyle style) {
    Network net;
    std::size_t address_bits = 1;
    while ((1U << address_bits) < words) ++address_bits;
    const Word address = add_input_word(net, "a", address_bits);
    const Word data = add_input_word(net, "d", bits);
    const std::uint32_t memory = add_memory(net, "m", words, bits);
    write_memory(memory, add_input(net, "w"), address, data);
    add_output(read_memory(memory, address, style), "q");
    return net;
  };
  Fabric fabric;
  fabric.ram_shapes = {{256, 16}, {512, 8}, {1024, 4}};
  const FabricCount block = count(make(512, 12, ReadStyle::registered), fabric);
  CHECK(block.ram_bits == 512 * 12);
  CHECK(block.ram_blocks == 2);
  CHECK(block_ram_of(make(512, 12, ReadStyle::registered), fabric) == 2);
  CHECK(block_ram_of(make(64, 8, ReadStyle::combinational), fabric) == 0);
  CHECK(block.registers == 0);
  // Block RAM can't be read within the clock.
  const FabricCount registers = count(make(64, 8, ReadStyle::combinational), fabric);
  CHECK(registers.ram_bits == 0);
  CHECK(registers.registers == 64 * 8);
  const FabricCount small = count(make(8, 8, ReadStyle::registered), fabric);
  CHECK(small.registers == 72);
  // yosys 0.23 `synth -lut` of this memory with a separate read address [C]: 56 LUTs of four inputs.
  CHECK(small.luts <= 56);
}

TEST_CASE("unused logic, constant registers and duplicates are not counted") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  const Word idle = add_registers(net, "idle", 8);
  connect(idle, idle + 1U);
  const Bit stuck = add_register(net, "stuck");
  connect(stuck, stuck);
  const Bit first = registered("first", a ^ b);
  const Bit second = registered("second", a ^ b);
  add_output(first & second & !stuck, "y");
  const FabricCount counted = count(net, {});
  CHECK(counted.registers == 1);
  CHECK(counted.cells == 1);
}

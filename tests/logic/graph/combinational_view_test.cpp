#include "logic/graph/combinational_view.hpp"

#include <catch2/catch.hpp>

#include "logic/network/word.hpp"

using namespace portweigh::logic;

TEST_CASE("only what reaches an output is in the view") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  const Word unread = add_registers(net, "unread", 4);
  connect(unread, unread + 1U);
  add_output(registered("q", a & b), "q");
  const CombinationalView view = combinational_view(net, {});
  REQUIRE(view.registers.size() == 1);
  CHECK(net.registers()[view.registers[0].index].name == "q");
  CHECK(view.graph.gate_count() == 1);
  // Output, then next value, enable and reset of the register.
  CHECK(view.graph.roots().size() == 4);
}

TEST_CASE("constant registers and duplicates are found through each other") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit zero = registered("zero", constant_bit(net, false));
  const Bit still_zero = registered("still_zero", zero & a);
  const Bit first = registered("first", a | still_zero);
  const Bit second = registered("second", a);
  const Bit third = registered("third", first ^ constant_bit(net, true));
  const Bit fourth = registered("fourth", !second);
  add_output(third & fourth, "y");
  const CombinationalView view = combinational_view(net, {});
  CHECK(view.registers.size() == 2);
  CHECK(view.graph.gate_count() == 0);
}

TEST_CASE("registers with different reset values or enables are no duplicates") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit enable = add_input(net, "enable");
  const Bit reset = add_input(net, "reset");
  add_output(registered("q0", a, {.enable = std::nullopt, .reset = reset, .reset_value = 0}), "q0");
  add_output(registered("q1", a, {.enable = std::nullopt, .reset = reset, .reset_value = 1}), "q1");
  add_output(registered("q2", a, {.enable = enable, .reset = std::nullopt}), "q2");
  CHECK(combinational_view(net, {}).registers.size() == 3);
}

TEST_CASE("a live memory keeps its addresses, data and enables as roots") {
  Network net;
  const Word address = add_input_word(net, "a", 3);
  const Word data = add_input_word(net, "d", 4);
  const std::uint32_t memory = add_memory(net, "m", 8, 4);
  write_memory(memory, add_input(net, "w"), address, data);
  add_output(read_memory(memory, address, ReadStyle::registered), "q");
  const std::uint32_t idle = add_memory(net, "idle", 8, 4);
  write_memory(idle, add_input(net, "v"), address, data);
  const CombinationalView view = combinational_view(net, {});
  REQUIRE(view.memories.size() == 1);
  CHECK(view.memories[0].root_count == 1 + 3 + 4 + 3);
}

TEST_CASE("marked adders become boxes on dedicated chains, half adder carries and short ones don't") {
  Network net;
  const Word a = add_input_word(net, "a", 6);
  const Word b = add_input_word(net, "b", 6);
  const Sum sum = add_with_carry(a, b, constant_bit(net, false));
  add_output(sum.value, "sum");
  add_output(sum.carry, "carry");
  const CombinationalView view = combinational_view(net, {.carry_chain = CarryChain::dedicated});
  CHECK(view.graph.boxes().size() == 6);
  CHECK(view.graph.gate_count() == 0);
  CHECK(combinational_view(net, {.carry_chain = CarryChain::dedicated, .shortest_chain = 7})
            .graph.boxes()
            .empty());
}

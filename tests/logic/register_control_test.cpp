#include "logic/register_control.hpp"

#include <catch2/catch.hpp>

#include "logic/cover.hpp"
#include "logic/word.hpp"
#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

Cover covered(const Network& net) {
  const Cover result = cover(net, {.lut_inputs = 4, .carry_chain = CarryChain::dedicated});
  REQUIRE(difference(net, result) == "");
  return result;
}

}  // namespace

TEST_CASE("a word that keeps its value under a condition gets a clock enable") {
  Network net;
  const Bit load = add_input(net, "load");
  const Word data = add_input_word(net, "data", 8);
  const Word held = add_registers(net, "held", 8);
  connect(held, select(load, data, held));
  add_output(held, "held");
  const Cover result = covered(net);
  CHECK(result.luts.empty());
  for (const CoveredRegister& reg : result.registers) CHECK(reg.enable != constant_true);
}

TEST_CASE("nested conditions give one shared enable") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  const Word x = add_input_word(net, "x", 8);
  const Word y = add_input_word(net, "y", 8);
  const Word held = add_registers(net, "held", 8);
  connect(held, select(a, x, select(b, y, held)));
  add_output(held, "held");
  // One select for each bit, and a OR b.
  CHECK(covered(net).luts.size() == 9);
}

TEST_CASE("a shared clearing signal becomes the reset") {
  Network net;
  const Bit clear = add_input(net, "clear");
  const Word data = add_input_word(net, "data", 8);
  const Word q = add_registers(net, "q", 8);
  connect(q, gate(!clear, data));
  add_output(q, "q");
  const Cover result = covered(net);
  CHECK(result.luts.empty());
  for (const CoveredRegister& reg : result.registers) CHECK(reg.reset != constant_false);
}

TEST_CASE("a reset given by the designer stays above a recovered enable") {
  Network net;
  const Bit load = add_input(net, "load");
  const Bit reset = add_input(net, "reset");
  const Word data = add_input_word(net, "data", 4);
  const Word held = add_registers(net, "held", 4);
  connect(held, select(load, data, held), {.reset = reset, .reset_value = 5});
  add_output(held, "held");
  CHECK(covered(net).luts.empty());
}

TEST_CASE("an enable of a single register is not worth a LUT of its own") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  const Bit c = add_input(net, "c");
  const Bit flag = add_register(net, "flag");
  connect(flag, (a & b) | (flag & !c));
  add_output(flag, "flag");
  CHECK(covered(net).luts.size() == 1);
}

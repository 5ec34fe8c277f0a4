#include "logic/graph/register_control.hpp"

#include <catch2/catch.hpp>

#include "logic/cover/cover.hpp"
#include "logic/network/word.hpp"
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

TEST_CASE("a serial transmitter written with plain selections gets the controls synthesis finds") {
  Network net;
  const Bit reset = add_input(net, "reset");
  const Bit start = add_input(net, "start");
  const Word data = add_input_word(net, "data", 8);
  const Word bits_left = add_registers(net, "bits_left", 4);
  const Word shifter = add_registers(net, "shifter", 10);
  const Word divider = add_registers(net, "divider", 8);
  const Bit line = add_register(net, "line");
  const Bit idle = bits_left == 0U;
  const Bit tick = divider == 103U;
  const auto zero = [&net](std::size_t width) { return constant_word(net, 0, width); };
  const Word frame = concatenate(concatenate(zero(1), data), constant_word(net, 1, 1));
  const auto next = [&](const Word& held, const Word& started, const Word& ticked, const Word& running) {
    return select(reset, zero(held.size()),
                  select(idle, select(start, started, held), select(tick, ticked, running)));
  };
  connect(bits_left, next(bits_left, constant_word(net, 10, 4), bits_left - 1U, bits_left));
  connect(divider, next(divider, zero(8), zero(8), divider + 1U));
  connect(shifter, next(shifter, frame, shifted_right(shifter, 1, constant_bit(net, true)), shifter));
  connect(line, select(reset, constant_bit(net, true), select((!idle) & tick, shifter[0], line)),
          {.enable = std::nullopt, .reset = std::nullopt, .reset_value = 1});
  add_output(line, "line");
  add_output(!idle, "busy");
  // The same written in Verilog, yosys 0.23 `synth -flatten -lut K` [C]: 23 registers; 33 LUTs of four
  // inputs, 30 of six. Ours must be within ten percent.
  for (const auto& [lut_inputs, reference] : {std::pair{4U, 33.0}, std::pair{6U, 30.0}}) {
    const Cover result = cover(net, {.lut_inputs = lut_inputs});
    REQUIRE(difference(net, result) == "");
    CHECK(result.registers.size() == 23);
    CHECK(static_cast<double>(result.luts.size()) <= 1.1 * reference);
    CHECK(static_cast<double>(result.luts.size()) >= 0.9 * reference);
  }
}

#include "logic/network/word.hpp"

#include <array>
#include <bit>
#include <catch2/catch.hpp>
#include <random>

#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"

using namespace portweigh::logic;

TEST_CASE("word operators agree with integer arithmetic on random operands") {
  constexpr std::size_t width = 9;
  constexpr std::uint64_t mask = (1U << width) - 1;
  Network net;
  const Word a = add_input_word(net, "a", width);
  const Word b = add_input_word(net, "b", width);
  const Bit c = add_input(net, "c");
  add_output(a & b, "and");
  add_output(a | b, "or");
  add_output(a ^ ~b, "xnor");
  add_output(select(c, a, b), "select");
  add_output(a + 37U, "plus");
  add_output(a - 100U, "minus");
  add_output(decremented(a), "decremented");
  add_output(add_with_carry(a, b, c).carry, "carry");
  add_output(a >= b, "at_least");
  add_output(a > 200U, "above");
  add_output(a <= 200U, "up_to");
  add_output(a != 77U, "differs");
  add_output(any(a), "any");
  add_output(all(a), "all");
  add_output(parity(a), "parity");
  add_output(shifted_left(a, 3), "left");
  add_output(shifted_right(a, 2, c), "right");
  add_output(lowest_set(a), "lowest");
  add_output(reversed(a), "reversed");
  Simulator sim(net);
  std::mt19937_64 random(4);
  for (unsigned trial = 0; trial < 30; ++trial) {
    for (unsigned stream = 0; stream < 64; ++stream) {
      const std::uint64_t x = stream == 0 ? 0 : stream == 1 ? mask : stream % 7 == 0 ? 77 : random() & mask;
      const std::uint64_t y = stream % 9 == 0 ? x : random() & mask;
      const std::uint64_t z = random() % 2;
      sim.set(a, stream, x);
      sim.set(b, stream, y);
      sim.set(c, stream, z);
    }
    for (unsigned stream = 0; stream < 64; ++stream) {
      const std::uint64_t x = sim.value(a, stream);
      const std::uint64_t y = sim.value(b, stream);
      const std::uint64_t z = sim.value(c, stream);
      const auto read = [&](const char* name) { return sim.value(name, stream); };
      REQUIRE(read("and") == (x & y));
      REQUIRE(read("or") == (x | y));
      REQUIRE(read("xnor") == ((x ^ ~y) & mask));
      REQUIRE(read("select") == (z != 0 ? x : y));
      REQUIRE(read("plus") == ((x + 37) & mask));
      REQUIRE(read("minus") == ((x - 100) & mask));
      REQUIRE(read("decremented") == ((x - 1) & mask));
      REQUIRE(read("carry") == (x + y + z) >> width);
      REQUIRE(read("at_least") == (x >= y ? 1U : 0U));
      REQUIRE(read("above") == (x > 200 ? 1U : 0U));
      REQUIRE(read("up_to") == (x <= 200 ? 1U : 0U));
      REQUIRE(read("differs") == (x != 77 ? 1U : 0U));
      REQUIRE(read("any") == (x != 0 ? 1U : 0U));
      REQUIRE(read("all") == (x == mask ? 1U : 0U));
      REQUIRE(read("parity") == static_cast<std::uint64_t>(std::popcount(x) % 2));
      REQUIRE(read("left") == ((x << 3U) & mask));
      REQUIRE(read("right") == (x >> 2U | (z != 0 ? std::uint64_t{3} << (width - 2) : 0)));
      REQUIRE(read("lowest") == (x == 0 ? 0U : static_cast<std::uint64_t>(std::countr_zero(x))));
      std::uint64_t mirrored = 0;
      for (std::size_t i = 0; i < width; ++i) mirrored |= (x >> i & 1U) << (width - 1 - i);
      REQUIRE(read("reversed") == mirrored);
    }
  }
}

TEST_CASE("selections, decoders and tables follow their index") {
  Network net;
  const Word index = add_input_word(net, "i", 3);
  std::vector<Word> values;
  for (unsigned i = 0; i < 6; ++i) values.push_back(constant_word(net, 10 + i, 5));
  add_output(select_indexed(index, values), "indexed");
  add_output(decoded(index), "decoded");
  const std::array<std::uint64_t, 6> table = {3, 1, 4, 1, 5, 9};
  add_output(lookup(index, table, 4), "table");
  Simulator sim(net);
  for (unsigned i = 0; i < 8; ++i) {
    sim.set(index, i);
    if (i < 6) CHECK(sim.value("indexed") == 10 + i);
    CHECK(sim.value("decoded") == 1U << i);
    if (i < 6) CHECK(sim.value("table") == table[i]);
  }
}

TEST_CASE("words of different widths and numbers that don't fit are refused") {
  Network net;
  const Word a = add_input_word(net, "a", 4);
  const Word b = add_input_word(net, "b", 5);
  CHECK_THROWS_AS(a + b, std::logic_error);
  CHECK_THROWS_AS(a & b, std::logic_error);
  CHECK_THROWS_AS(a == b, std::logic_error);
  CHECK_THROWS_AS(a < b, std::logic_error);
  CHECK_THROWS_AS(a + 16U, std::logic_error);
  CHECK_THROWS_AS(a.slice(2, 3), std::logic_error);
}

TEST_CASE("adders leave a chain mark of one bit for each bit") {
  Network net;
  const Word a = add_input_word(net, "a", 7);
  const Word b = add_input_word(net, "b", 7);
  add_output(a + b, "sum");
  REQUIRE(net.chains().size() == 1);
  CHECK(net.chains()[0].size() == 7);
}

TEST_CASE(
    "counting down by blocks is shallower than by a chain, and the same adder where there are carries") {
  const auto covered = [](auto&& less_one, CarryChain chain) {
    Network net;
    const Word count = add_input_word(net, "count", 24);
    add_output(less_one(count), "less_one");
    return cover(net, {.lut_inputs = 4, .carry_chain = chain});
  };
  const auto by_blocks = [](const Word& count) { return decremented(count); };
  const auto by_chain = [](const Word& count) { return count - 1U; };
  CHECK(covered(by_blocks, CarryChain::none).levels <= 4);
  CHECK(covered(by_chain, CarryChain::none).levels >= 7);
  const Cover blocks = covered(by_blocks, CarryChain::dedicated);
  const Cover chain = covered(by_chain, CarryChain::dedicated);
  CHECK(blocks.luts.size() == chain.luts.size());
  CHECK(blocks.carry_bits.size() == chain.carry_bits.size());
}

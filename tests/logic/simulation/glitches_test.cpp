#include "logic/simulation/glitches.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

#include "logic/network/word.hpp"

using namespace portweigh::logic;

namespace {

// Useless transitions for each useful one, all inputs random and changing together.
double useless_share(const Network& net, const CoverOptions& options) {
  const Cover covered = cover(net, options);
  Simulator sim(net);
  UnitDelay timed(covered);
  std::mt19937_64 random(7);
  for (unsigned clock = 0; clock < 400; ++clock) {
    for (const auto& input : net.inputs()) sim.set_lanes(input.literal, random());
    timed.settle(sim);
  }
  return timed.ratio() - 1;
}

Network adder(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  add_output(a + b, "sum");
  return net;
}

struct FullAdder {
  Bit sum;
  Bit carry;
};

FullAdder full_adder(Bit a, Bit b, Bit c) {
  return {a ^ b ^ c, (a & b) | (c & (a ^ b))};
}

// Rows of full adders that hand their carries to the next row, and a ripple adder at the end (Braun's array).
Network array_multiplier(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  const Bit zero = a[0] ^ a[0];
  std::vector<Bit> product;
  std::vector<Bit> sums;
  std::vector<Bit> carries(bits, zero);
  for (std::size_t i = 0; i < bits; ++i) sums.push_back(a[i] & b[0]);
  for (std::size_t row = 1; row < bits; ++row) {
    product.push_back(sums[0]);
    for (std::size_t i = 0; i < bits; ++i) {
      const Bit above = i + 1 < bits ? sums[i + 1] : zero;
      const FullAdder cell = full_adder(a[i] & b[row], above, carries[i]);
      sums[i] = cell.sum;
      carries[i] = cell.carry;
    }
  }
  product.push_back(sums[0]);
  Bit carry = zero;
  for (std::size_t i = 0; i < bits; ++i) {
    const FullAdder cell = full_adder(i + 1 < bits ? sums[i + 1] : zero, carries[i], carry);
    product.push_back(cell.sum);
    carry = cell.carry;
  }
  for (std::size_t i = 0; i < product.size(); ++i) add_output(product[i], "p" + std::to_string(i));
  return net;
}

}  // namespace

// Useless by useful transitions of ripple adders, each full adder a sum and a carry of one unit: .76, .88 and
// .95 for 8, 16 and 32 bits, computed independently by unit-step simulation of 100,000 random pairs.
TEST_CASE("ripple adders of LUTs have the glitches that the unit-delay model gives them") {
  const CoverOptions full_adders{.lut_inputs = 3, .effort = Effort::covering_only};
  CHECK(useless_share(adder(8), full_adders) == Approx(0.76).margin(0.03));
  CHECK(useless_share(adder(16), full_adders) == Approx(0.88).margin(0.03));
  CHECK(useless_share(adder(32), full_adders) == Approx(0.95).margin(0.03));
}

TEST_CASE("a fast carry leaves an adder without glitches but at its sums") {
  CHECK(useless_share(adder(16), {.carry_chain = CarryChain::dedicated}) < 0.2);
}

// 1.10 and 2.26 for arrays of 8 x 8 and 16 x 16 bits, computed independently in the same model; published for
// gates 1.5 and 3.3 (Leijten, van Meerbergen, Jess 1995, from memory).
TEST_CASE("array multipliers have the glitches that the unit-delay model gives them") {
  const CoverOptions full_adders{.lut_inputs = 3, .effort = Effort::covering_only};
  const double small = useless_share(array_multiplier(8), full_adders);
  const double large = useless_share(array_multiplier(16), full_adders);
  CHECK(small == Approx(1.10).epsilon(0.15));
  CHECK(large == Approx(2.26).epsilon(0.15));
}

TEST_CASE("one level of LUTs has no glitches, and nothing is counted at the start") {
  Network net;
  const Word a = add_input_word(net, "a", 4);
  add_output(registered("q", parity(a)), "q");
  CHECK(useless_share(net, {}) == 0);
  const Cover covered = cover(net, {});
  Simulator sim(net);
  UnitDelay timed(covered);
  sim.set("a", 0x7);
  timed.settle(sim);
  CHECK(timed.all() == 0);
  CHECK(timed.ratio() == 1);
}

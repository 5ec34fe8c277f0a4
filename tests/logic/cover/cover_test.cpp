#include "logic/cover/cover.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>
#include <functional>

#include "circuits.hpp"
#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

CoverOptions covering_only(unsigned lut_inputs) {
  return {.lut_inputs = lut_inputs, .effort = Effort::covering_only};
}

struct CheckValue {
  std::string name;
  std::function<Network()> make;
  std::size_t luts4;
  std::size_t luts6;
};

// LUT counts of `strash; if -K` in berkeley-abc 1.01 [C]: the covering alone must not need more.
std::vector<CheckValue> check_values() {
  std::vector<CheckValue> values;
  const auto add = [&values](std::string name, std::function<Network()> make, std::size_t k4,
                             std::size_t k6) {
    values.push_back({std::move(name), std::move(make), k4, k6});
  };
  const std::size_t mux4[] = {1, 3, 6, 13, 27};
  const std::size_t mux6[] = {1, 1, 3, 5, 11};
  const std::size_t equal4[] = {3, 9, 19, 41};
  const std::size_t equal6[] = {2, 7, 15, 35};
  const std::size_t increment4[] = {4, 10, 20, 42};
  const std::size_t increment6[] = {4, 9, 18, 39};
  for (std::size_t i = 0; i < 5; ++i) {
    add(
        fmt::format("multiplexer of {}", 2U << i), [i] { return circuits::multiplexer(i + 1); }, mux4[i],
        mux6[i]);
  }
  for (std::size_t i = 0; i < 4; ++i) {
    const std::size_t bits = std::size_t{4} << i;
    add(
        fmt::format("equality of {}", bits), [bits] { return circuits::equality(bits); }, equal4[i],
        equal6[i]);
    add(
        fmt::format("incrementer of {}", bits), [bits] { return circuits::incrementer(bits); }, increment4[i],
        increment6[i]);
  }
  struct Crc {
    std::size_t width;
    std::uint64_t polynomial;
    std::size_t bits;
    std::size_t luts4;
    std::size_t luts6;
  };
  for (const Crc& crc :
       {Crc{5, 0x05, 8, 11, 8}, Crc{8, 0x31, 8, 20, 13}, Crc{15, 0x4599, 8, 42, 28},
        Crc{16, 0x1021, 8, 22, 17}, Crc{24, 0x864CFB, 8, 64, 44}, Crc{32, 0x04C11DB7, 8, 78, 57},
        Crc{5, 0x05, 4, 6, 5}, Crc{8, 0x31, 4, 9, 9}, Crc{15, 0x4599, 4, 24, 18}, Crc{16, 0x1021, 4, 16, 16},
        Crc{24, 0x864CFB, 4, 36, 27}, Crc{32, 0x04C11DB7, 4, 43, 35}}) {
    add(
        fmt::format("CRC-{} of {} bits", crc.width, crc.bits),
        [crc] { return circuits::crc_next_state(crc.width, crc.polynomial, crc.bits); }, crc.luts4,
        crc.luts6);
  }
  return values;
}

void require_right(const Network& net, const Cover& covered) {
  REQUIRE(difference(net, covered) == "");
  REQUIRE(malformation(covered) == "");
}

}  // namespace

TEST_CASE("small functions take no more LUTs than the reference needs") {
  for (const CheckValue& value : check_values()) {
    INFO(value.name);
    const Network net = value.make();
    for (const Effort effort : {Effort::covering_only, Effort::restructure}) {
      const Cover k4 = cover(net, {.lut_inputs = 4, .effort = effort});
      const Cover k6 = cover(net, {.lut_inputs = 6, .effort = effort});
      CHECK(k4.luts.size() <= value.luts4);
      CHECK(k6.luts.size() <= value.luts6);
      require_right(net, k4);
      require_right(net, k6);
    }
  }
}

TEST_CASE("wide ANDs and parities take the least possible number of LUTs") {
  // ceil((n - 1) / (K - 1)): each LUT takes K signals away and gives one back.
  for (unsigned k = 3; k <= 8; ++k) {
    for (std::size_t n = 2; n <= 40; n += 3) {
      INFO("K " << k << ", " << n << " inputs");
      const std::size_t least = (n - 1 + k - 2) / (k - 1);
      for (const Network& net : {circuits::conjunction(n), circuits::parity_tree(n)}) {
        const Cover covered = cover(net, {.lut_inputs = k});
        CHECK(covered.luts.size() == least);
        require_right(net, covered);
      }
    }
  }
  // berkeley-abc's covering of the naive 16-input tree [C]: 5 LUTs of 6 inputs.
  CHECK(cover(circuits::parity_tree(16), covering_only(6)).luts.size() <= 5);
}

TEST_CASE("ripple adders at least depth take no more LUTs than the reference") {
  // berkeley-abc 1.01, `strash; if -K`, on these networks [C].
  const std::size_t bits[] = {4, 8, 16, 32};
  const std::size_t luts4[] = {7, 17, 35, 73};
  const std::size_t luts6[] = {6, 13, 28, 58};
  for (std::size_t i = 0; i < 4; ++i) {
    const Network net = circuits::adder(bits[i]);
    const Cover k4 = cover(net, covering_only(4));
    const Cover k6 = cover(net, covering_only(6));
    CHECK(k4.luts.size() <= luts4[i]);
    CHECK(k6.luts.size() <= luts6[i]);
    require_right(net, k4);
    require_right(net, k6);
  }
}

TEST_CASE("covers of generated circuits compute their networks for every LUT size") {
  const std::vector<Network> nets = {circuits::adder(9),
                                     circuits::multiplier(6),
                                     circuits::barrel_shifter(4),
                                     circuits::priority_encoder(20),
                                     circuits::random_logic(3, 30, 800),
                                     circuits::less_than(11)};
  for (const Network& net : nets) {
    for (unsigned k = 3; k <= 8; ++k) {
      for (const Effort effort : {Effort::covering_only, Effort::restructure}) {
        require_right(net, cover(net, {.lut_inputs = k, .effort = effort}));
      }
    }
  }
}

TEST_CASE("more LUT inputs never cost levels") {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    const Network net = circuits::random_logic(seed, 24, 600);
    unsigned levels = 1000;
    for (unsigned k = 3; k <= 8; ++k) {
      const Cover covered = cover(net, covering_only(k));
      CHECK(covered.levels <= levels);
      levels = covered.levels;
    }
  }
}

TEST_CASE("dedicated carry chains take one cell for each bit") {
  for (const std::size_t bits : {4U, 8U, 16U}) {
    const Network net = circuits::adder(bits);
    const Cover covered = cover(net, {.lut_inputs = 4, .carry_chain = CarryChain::dedicated});
    CHECK(covered.carry_bits.size() == bits);
    CHECK(covered.luts.empty());
    CHECK(covered.longest_carry == bits);
    CHECK(covered.levels == 1);
    require_right(net, covered);
  }
  // Too short for a chain: LUTs.
  CHECK(cover(circuits::adder(2), {.carry_chain = CarryChain::dedicated}).carry_bits.empty());
}

TEST_CASE("a sum of three operands has two chains and logic between them is levelled through them") {
  Network net;
  const Word a = add_input_word(net, "a", 8);
  const Word b = add_input_word(net, "b", 8);
  const Word c = add_input_word(net, "c", 8);
  add_output(select((a + b).top(), (a + b) + c, a - c), "y");
  const Cover covered = cover(net, {.lut_inputs = 4, .carry_chain = CarryChain::dedicated});
  CHECK(covered.carry_bits.size() == 24);
  CHECK(covered.levels == 3);
  require_right(net, covered);
}

TEST_CASE("an inverted source at an output costs an inverter, an inverted LUT nothing") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  add_output(!a, "not_a");
  add_output(!(a & b), "nand");
  const Cover covered = cover(net, {});
  CHECK(covered.luts.size() == 2);
  require_right(net, covered);
}

TEST_CASE("an incomplete network and LUT sizes out of range are refused") {
  Network open;
  open.add_output("q", open.add_register("q"));
  CHECK_THROWS_AS(cover(open, {}), std::logic_error);
  const Network net = circuits::adder(2);
  CHECK_THROWS_AS(cover(net, {.lut_inputs = 2}), std::logic_error);
  CHECK_THROWS_AS(cover(net, {.lut_inputs = 9}), std::logic_error);
}

TEST_CASE("covering is deterministic") {
  const Network net = circuits::random_logic(11, 40, 1500);
  const Cover first = cover(net, {.lut_inputs = 5});
  const Cover second = cover(net, {.lut_inputs = 5});
  REQUIRE(first.luts.size() == second.luts.size());
  for (std::size_t i = 0; i < first.luts.size(); ++i) {
    CHECK(first.luts[i].leaves == second.luts[i].leaves);
    CHECK(first.luts[i].function == second.luts[i].function);
  }
}

#include "logic/graph/truth_table.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

TruthTable random_table(std::mt19937_64& random) {
  // Sums of products and parities of inputs reach all kinds of functions.
  TruthTable table;
  for (unsigned term = 0; term < 6; ++term) {
    TruthTable product = TruthTable::constant(true);
    for (unsigned i = 0; i < max_lut_inputs; ++i) {
      if (random() % 3 == 0) product = product & TruthTable::input(i).complement_if(random() % 2 == 0);
    }
    table = term % 2 == 0 ? table | product : table ^ product;
  }
  return table;
}

}  // namespace

TEST_CASE("truth tables of inputs hold the bits of the assignment") {
  for (unsigned assignment = 0; assignment < 256; ++assignment) {
    for (unsigned i = 0; i < max_lut_inputs; ++i) {
      CHECK(TruthTable::input(i).at(assignment) == ((assignment >> i & 1U) != 0));
    }
  }
}

TEST_CASE("cofactors, dependence, moves and lane evaluation agree with the table bit by bit") {
  std::mt19937_64 random(7);
  for (unsigned trial = 0; trial < 40; ++trial) {
    const TruthTable table = random_table(random);
    std::array<std::uint64_t, max_lut_inputs> lanes{};
    for (std::uint64_t& lane : lanes) lane = random();
    const std::uint64_t result = table.evaluate(lanes);
    for (unsigned stream = 0; stream < 64; ++stream) {
      unsigned assignment = 0;
      for (unsigned i = 0; i < max_lut_inputs; ++i)
        assignment |= static_cast<unsigned>(lanes[i] >> stream & 1U) << i;
      REQUIRE(table.at(assignment) == ((result >> stream & 1U) != 0));
    }
    const std::array<unsigned, max_lut_inputs> places = {3, 1, 7, 0, 2, 6, 5, 4};
    const TruthTable moved = table.moved(places);
    for (unsigned i = 0; i < max_lut_inputs; ++i) {
      const TruthTable set = table.cofactor(i, true);
      const TruthTable clear = table.cofactor(i, false);
      bool depends = false;
      for (unsigned assignment = 0; assignment < 256; ++assignment) {
        REQUIRE(set.at(assignment) == table.at(assignment | 1U << i));
        REQUIRE(clear.at(assignment) == table.at(assignment & ~(1U << i)));
        depends = depends || set.at(assignment) != clear.at(assignment);
        unsigned source = 0;
        for (unsigned j = 0; j < max_lut_inputs; ++j) source |= (assignment >> places[j] & 1U) << j;
        REQUIRE(moved.at(assignment) == table.at(source));
      }
      CHECK(table.depends_on(i) == depends);
    }
  }
}

TEST_CASE("an input can be replaced by a function of the others") {
  const TruthTable a = TruthTable::input(0);
  const TruthTable b = TruthTable::input(1);
  const TruthTable c = TruthTable::input(2);
  CHECK((a ^ b).with_input(1, b & c) == (a ^ (b & c)));
  CHECK((a & b).with_input(0, ~a) == (~a & b));
}

#include "blocks/random_traffic.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <stdexcept>

#include "logic/network/word.hpp"

namespace portweigh::blocks {

TEST_CASE("random inputs differ between streams and repeat for one seed") {
  logic::Network network;
  const auto data = logic::add_input_word(network, "data", 16);
  const auto other = logic::add_input_word(network, "data_other", 2);
  logic::add_output(data, "copy");
  logic::Simulator simulator(network);
  std::mt19937_64 random(4);
  RandomInput input("data");
  input.set(simulator, random);
  CHECK(simulator.value(data, 0) != simulator.value(data, 1));
  CHECK(simulator.value(other, 0) == 0);
  const auto first = simulator.value(data, 17);
  random.seed(4);
  input.set(simulator, random);
  CHECK(simulator.value(data, 17) == first);
}

TEST_CASE("rare ones come with their chance, unknown names are refused") {
  logic::Network network;
  const auto start = logic::add_input(network, "start");
  logic::add_output(start, "copy");
  logic::Simulator simulator(network);
  std::mt19937_64 random(4);
  RandomInput input("start");
  int set_bits = 0;
  for (int i = 0; i < 400; ++i) {
    input.set_rare(simulator, random, 3);
    set_bits += std::popcount(simulator.lanes(start.literal()));
  }
  CHECK(set_bits == Approx(400 * 64 / 8).epsilon(0.05));
  RandomInput unknown("strat");
  CHECK_THROWS_AS(unknown.set(simulator, random), std::logic_error);
}

}  // namespace portweigh::blocks

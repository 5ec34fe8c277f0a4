// Random values on the inputs of a simulated network, a different one in each of the 64 streams.
//
// The names are looked up once and the literals kept, because a drive sets inputs at every clock.
// Example: RandomInput data("data"); data.set(sim, random) puts fresh random words on data[0], data[1], ...
// Tested by tests/blocks/random_traffic_test.cpp.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {

// Clocks from one event of a traffic to the next, where the block takes an event in one clock. Real lines are
// slower by tens of clocks; between two events everything settles, so what an event costs doesn't hang on it.
inline constexpr std::uint64_t traffic_spacing = 4;

class RandomInput {
 public:
  explicit RandomInput(std::string_view name) : name_(name) {}
  // Throws std::logic_error where the network has no such input.
  void set(logic::Simulator& simulator, std::mt19937_64& random);
  // Each bit of each stream is 1 with a chance of 1 in 2^halvings.
  void set_rare(logic::Simulator& simulator, std::mt19937_64& random, unsigned halvings);

 private:
  void find(const logic::Network& network);

  std::string name_;
  std::vector<logic::Literal> bits_;
};

}  // namespace portweigh::blocks

// Random but sensible events for a state machine: mostly such as the present state reacts to, one in eight
// any other, timers only while they run; conditions are tossed anew for every event.
//
// It follows the table with a StateWalk, so that long runs reach all states. Tested by
// tests/blocks/state_machine_test.cpp.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "blocks/state_table.hpp"

namespace portweigh::blocks {

class StateTraffic {
 public:
  struct Step {
    std::size_t event = 0;
    std::uint64_t conditions = 0;   // external ones
    std::vector<Command> commands;  // what the table does on it
  };

  // The table must outlive the traffic. The initial state has been entered.
  StateTraffic(const StateTable& table, std::uint64_t seed);
  Step next();
  const StateWalk& walk() const { return walk_; }

 private:
  std::size_t choose_event(std::uint64_t conditions);

  const StateTable* table_;
  StateWalk walk_;
  std::mt19937_64 random_;
};

}  // namespace portweigh::blocks

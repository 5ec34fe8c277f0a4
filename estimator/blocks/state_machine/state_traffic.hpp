// Random but sensible events for a state machine: one in eight is any event that can happen, the others make
// the present state react, and mostly lead on to the state that was visited least. Else the events that end
// everything (detach, reset) would keep a protocol machine near its start, since they count in every state.
// Timers expire only while they run; conditions are tossed anew for every event. Tested by
// tests/blocks/state_machine/state_machine_test.cpp.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "blocks/state_machine/state_table.hpp"

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
  std::size_t least_visited(const std::vector<std::size_t>& events, std::uint64_t conditions);

  const StateTable* table_;
  StateWalk walk_;
  std::vector<std::uint64_t> visits_;  // by state
  std::mt19937_64 random_;
};

}  // namespace portweigh::blocks

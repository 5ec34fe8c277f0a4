// What both firmware forms of a state machine declare: the event's parameters, the state, the ports.
//
// Commands are writes to ports: a real program stores a deadline for a timer or calls a driver, at about the
// cost of a store. Both forms write them in the order of the table: leave, reaction, enter.
// Tested by tests/blocks/state_machine/state_machine_test.cpp.
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "blocks/state_machine/state_machine.hpp"
#include "firmware/routine.hpp"

namespace portweigh::blocks {

firmware::Routine state_machine_by_switch(const StateTable& table);
firmware::Routine state_machine_by_table(const StateTable& table);

class MachineRoutine {
 protected:
  explicit MachineRoutine(const StateTable& table)
      : table_(table), routine_("state-machine"), event_(routine_.parameter_u8("event")) {
    if (table_.external_conditions() > 0) {
      conditions_ = word_for(table_.external_conditions(), "conditions", &firmware::Routine::parameter_u8,
                             &firmware::Routine::parameter_u16, &firmware::Routine::parameter_u32);
    }
    state_ = routine_.state_u8("state");
    if (!table_.actions.empty()) action_ = routine_.port_u8("action");
    if (!table_.timers.empty()) {
      start_ = routine_.port_u8("timer_start");
      stop_ = routine_.port_u8("timer_stop");
    }
    if (!table_.outputs.empty()) {
      outputs_ = word_for(table_.outputs.size(), "outputs", &firmware::Routine::port_u8,
                          &firmware::Routine::port_u16, &firmware::Routine::port_u32);
    }
  }

  using Declare = firmware::Place (firmware::Routine::*)(const std::string&);
  firmware::Place word_for(std::size_t bits, const std::string& name, Declare byte, Declare half,
                           Declare word) {
    const Declare declare = bits <= 8 ? byte : bits <= 16 ? half : word;
    return (routine_.*declare)(name);
  }

  // A table in flash of the narrowest type that holds the values.
  firmware::Array table_of(const std::string& name, std::vector<std::uint32_t> values) {
    const std::uint32_t largest = *std::max_element(values.begin(), values.end());
    if (largest < 0x100U) return routine_.table_u8(name, std::move(values));
    if (largest < 0x10000U) return routine_.table_u16(name, std::move(values));
    return routine_.table_u32(name, std::move(values));
  }

  std::vector<std::uint32_t> output_levels() const {
    std::vector<std::uint32_t> levels;
    for (const State& state : table_.states) {
      std::uint32_t bits = 0;
      for (const std::size_t output : state.outputs) bits |= 1U << output;
      levels.push_back(bits);
    }
    return levels;
  }

  void enter_number(const firmware::Expression& target) {
    routine_.set(*state_, target);
    if (outputs_) routine_.set(*outputs_, (*levels_)[target]);
  }
  void enter_number(std::uint32_t target) {
    routine_.set(*state_, target);
    if (outputs_) routine_.set(*outputs_, output_levels()[target]);
  }

  bool any_state_has(std::vector<Command> State::*commands) const {
    return std::any_of(table_.states.begin(), table_.states.end(),
                       [&](const State& state) { return !(state.*commands).empty(); });
  }

  const StateTable& table_;
  firmware::Routine routine_;
  firmware::Place event_;
  std::optional<firmware::Place> conditions_, state_, action_, start_, stop_, outputs_;
  std::optional<firmware::Array> levels_;
};

}  // namespace portweigh::blocks

// State machine: a table (state_table.hpp) as a logic network and as firmware.
//
// Network. Inputs: `reset`; a strobe `event_X` for every event, at most one in a clock, consecutive ones at
// least two clocks apart; a level `event_X` for every timer, high from its expiry until `run_TIMER` falls; a
// level `is_X` for every condition. Outputs: the state register (`state[i]`, binary or one-hot), a strobe
// `do_X` of one clock for every action, a level `set_X` for every output of the states, a level `run_TIMER`
// (the timer counts while it is high and starts anew after a low). Leave and `do` commands follow one clock
// after the event, enter commands two. Names have underscores for hyphens. The first state's number is 0.
//
// Routine, event `step`: parameters `event` and `conditions` (where there are any), ports `action`,
// `timer_start` and `timer_stop` (written with the index of what is meant) and `outputs` (one bit each).
//   switch: nested switch over state and event, with one common switch for what most states do alike;
//   table:  state x event table in flash to rows of guard, commands and target, and a small interpreter.
//
// Tested by tests/blocks/state_machine/state_machine_test.cpp: both agree with StateWalk step by step.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "blocks/kind.hpp"
#include "blocks/state_machine/state_table.hpp"

namespace portweigh::blocks {

enum class StateEncoding : std::uint8_t { binary, one_hot };

// How the machine is written (state_machine_network.cpp): state by state, or with shared product terms.
enum class StateMachineStyle : std::uint8_t { ordinary, factored };

logic::Network state_machine_network(const StateTable& table, StateEncoding encoding,
                                     StateMachineStyle style);

enum class StateMachineMethod : std::uint8_t { nested_switch, flash_table };

firmware::Routine state_machine_routine(const StateTable& table, StateMachineMethod method);

// What a machine of a certain size is made of. The first input is a strobe that says when to look at the
// others; half of the outputs are held by states, half are strobes of transitions.
struct MachineSize {
  std::size_t states = 8;
  std::size_t inputs = 8;
  std::size_t outputs = 8;
  std::size_t transitions = 20;
};

// A plausible machine of that size, always the same for the same size. Transitions beyond what states and
// inputs can tell apart are left out.
StateTable generate_state_table(const MachineSize& size);

// The table that the settings name by file or by size.
StateTable state_table_of(const Settings& settings);

// `event_send_request` for ("event", "send-request").
std::string signal_name(std::string_view prefix, std::string_view name);

Kind state_machine_kind();

}  // namespace portweigh::blocks

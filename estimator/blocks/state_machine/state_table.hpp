// A state machine as people write it: a TOML table of states, events, timers and reactions.
//
//   initial = "idle"
//   [events]
//   accept = "Accept message received"        # at most one of these at a time
//   [actions]
//   send-request = "send a Request message"    # done once
//   [timers.reply]
//   duration = { low = "24 ms", typical = "27 ms", high = "30 ms" }   # expires = "reply-timeout" by default
//   [[state]]
//   name = "waiting"
//   timers = ["reply"]                         # runs while the state lasts
//   enter = ["send-request"]
//   on = [ { event = "accept", to = "ready" }, { event = "reply-timeout", to = "idle" } ]
//   ignore = ["attach"]                        # every event needs a reaction or stands here
//
// Further parts: `[conditions]` (levels that guards look at: when = "a and not b"), `[outputs]` (levels that
// states hold), `[counters.x]` (limit; "count x", "clear x"; condition "x-reached"), `[groups]` (names for
// lists of events), `[anywhere]` (reactions of every state that says nothing itself), "others" (all events
// left). A state's own line for an event wins over its line for a group, then `anywhere` likewise, then
// "others". A reaction without `to` stays in the state: nothing is left or entered.
//
// The order of a step: guards are read; leave commands of the old state, the reaction's commands, enter
// commands of the new state. Tested by tests/blocks/state_machine/state_table_test.cpp and state_table_errors_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "figures/ledger/source.hpp"

namespace portweigh::blocks {

struct NamedItem {
  std::string name;
  std::string meaning;
};

struct StateTimer {
  std::string name;
  figures::Range duration_s;
  std::size_t event = 0;  // raised when it expires
  // Runs only while certain states last and its expiry leaves them; else commands start and stop it.
  bool is_scoped = true;
};

struct StateCounter {
  std::string name;
  unsigned limit = 1;         // counts 0..limit and stays there
  std::size_t condition = 0;  // true at the limit
};

enum class CommandKind : std::uint8_t { act, start, stop, count, clear };

struct Command {
  CommandKind kind = CommandKind::act;
  std::size_t index = 0;  // of the action, timer or counter
  auto operator<=>(const Command&) const = default;
};

struct GuardTerm {
  std::size_t condition = 0;
  bool expected = true;
  auto operator<=>(const GuardTerm&) const = default;
};
using Guard = std::vector<GuardTerm>;  // sorted by condition; all must hold, none: always

struct Reaction {
  Guard guard;
  std::optional<std::size_t> target;  // absent: stays, nothing is left or entered
  std::vector<Command> commands;
  bool is_nothing() const { return !target && commands.empty(); }
};

struct State {
  std::string name;
  std::string meaning;
  std::vector<std::size_t> outputs;  // held while the state lasts
  std::vector<std::size_t> timers;   // run while the state lasts; starts and stops are in enter and leave
  std::vector<Command> enter;
  std::vector<Command> leave;
  // By event: the first whose guard holds counts. In tables from files only the last one, without a guard,
  // overlaps the others. None holds: the event is ignored.
  std::vector<std::vector<Reaction>> reactions;
};

struct StateTable {
  std::string name;
  std::string summary;
  std::string source;
  std::vector<NamedItem> events;      // those of the timers last
  std::vector<NamedItem> conditions;  // those of the counters last
  std::vector<NamedItem> actions;
  std::vector<NamedItem> outputs;
  std::vector<StateTimer> timers;
  std::vector<StateCounter> counters;
  std::vector<State> states;  // the initial state first

  std::size_t external_events() const { return events.size() - timers.size(); }
  std::size_t external_conditions() const { return conditions.size() - counters.size(); }
  std::size_t reaction_count() const;  // reactions that do something, over all states and events

  // Index of a name; std::out_of_range where there is none.
  std::size_t state(std::string_view name) const;
  std::size_t event(std::string_view name) const;
  std::size_t condition(std::string_view name) const;
};

// reading::InputError with every mistake of the file, reading::FileError if it can't be read.
StateTable load_state_table(const std::filesystem::path& path);
// `name` stands for the file in messages.
StateTable parse_state_table(std::string text, std::string name);

// Follows a table step by step, in plain C++: the reference for the network and the routines.
class StateWalk {
 public:
  explicit StateWalk(const StateTable& table);

  std::size_t state() const { return state_; }
  const std::vector<unsigned>& counters() const { return counters_; }
  // Started and neither stopped nor expired.
  bool is_running(std::size_t timer) const { return running_.at(timer); }
  // Enter commands of the initial state, to be carried out once after a reset.
  std::vector<Command> begin();
  // `conditions`: bit i is external condition i. Gives the commands carried out, in order. The event of a
  // timer that isn't running does nothing.
  std::vector<Command> step(std::size_t event, std::uint64_t conditions = 0);
  // The reaction that `step` would choose; null if the event is ignored.
  const Reaction* reaction(std::size_t event, std::uint64_t conditions) const;

 private:
  void carry_out(const std::vector<Command>& commands, std::vector<Command>& done);

  const StateTable* table_;
  std::size_t state_ = 0;
  std::vector<unsigned> counters_;
  std::vector<bool> running_;
};

// True where all terms hold; `conditions` has a bit for every condition, counters' included.
bool holds(const Guard& guard, std::uint64_t conditions);
// False where one asks for a condition and the other for its opposite.
bool can_hold_together(const Guard& a, const Guard& b);

}  // namespace portweigh::blocks

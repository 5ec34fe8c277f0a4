// The firmware twin of a state table as nested switch: over the state, then over the event.
//
// A case knows the state it leaves and the one it enters, so it writes what both want as it stands; more than
// a few commands on entering, or leaving from anywhere, are subroutines. What at least half of the states do
// alike on an event stands once, in a switch after the states. Tested by tests/blocks/state_machine/state_machine_test.cpp.
#include <algorithm>
#include <utility>

#include "blocks/state_machine/state_machine_routine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::size_t few_commands = 2;  // written where they are wanted rather than called

bool are_same(const std::vector<Reaction>& a, const std::vector<Reaction>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Reaction& x, const Reaction& y) {
    return x.guard == y.guard && x.target == y.target && x.commands == y.commands;
  });
}

// Only what does something: a last "nothing" without a guard is what happens anyway.
std::vector<Reaction> effective(std::vector<Reaction> reactions) {
  while (!reactions.empty() && reactions.back().is_nothing()) reactions.pop_back();
  return reactions;
}

class SwitchRoutine : private MachineRoutine {
 public:
  explicit SwitchRoutine(const StateTable& table) : MachineRoutine(table) {}

  Routine build() {
    for (const StateCounter& counter : table_.counters) {
      counters_.push_back(routine_.state_u8("counter_" + counter.name));
    }
    find_common();
    leave_ = declare_commands("leave_state", &State::leave);
    enter_ = declare_commands("enter_state", &State::enter);
    std::vector<Routine::SwitchCase> states;
    for (std::size_t s = 0; s < table_.states.size(); ++s) {
      auto events = cases_of(s);
      if (events.empty()) continue;
      states.push_back({static_cast<std::uint32_t>(s), [this, events] { routine_.switch_(event_, events); }});
    }
    const auto common = common_cases();
    routine_.switch_(*state_, states);
    if (!common.empty()) routine_.switch_(event_, common);
    return std::move(routine_);
  }

 private:
  // For each event what at least half of the states do, if that is anything.
  void find_common() {
    common_.resize(table_.events.size());
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      for (const State& candidate : table_.states) {
        const auto reactions = effective(candidate.reactions[event]);
        const auto alike = std::count_if(table_.states.begin(), table_.states.end(), [&](const State& other) {
          return are_same(effective(other.reactions[event]), reactions);
        });
        if (!reactions.empty() && 2 * static_cast<std::size_t>(alike) >= table_.states.size() && alike > 1) {
          common_[event] = reactions;
        }
      }
    }
  }

  // A subroutine that writes the commands of the state the machine is in.
  std::optional<firmware::Subroutine> declare_commands(const std::string& name,
                                                       std::vector<Command> State::*commands) {
    if (!any_state_has(commands)) return std::nullopt;
    return routine_.subroutine(name, {}, [this, commands](const std::vector<Place>&) {
      routine_.switch_(*state_, command_cases(commands));
    });
  }

  std::vector<Routine::SwitchCase> command_cases(std::vector<Command> State::*commands) {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t s = 0; s < table_.states.size(); ++s) {
      const std::vector<Command>& list = table_.states[s].*commands;
      if (list.empty()) continue;
      cases.push_back({static_cast<std::uint32_t>(s), [this, &list] { write(list); }});
    }
    return cases;
  }

  std::vector<Routine::SwitchCase> cases_of(std::size_t s) {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      const auto reactions = effective(table_.states[s].reactions[event]);
      if (are_same(reactions, common_[event])) continue;
      cases.push_back({static_cast<std::uint32_t>(event), [this, reactions, s, event] {
                         write_reactions(reactions, s);
                         if (!common_[event].empty()) routine_.return_();
                       }});
    }
    return cases;
  }

  std::vector<Routine::SwitchCase> common_cases() {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      if (common_[event].empty()) continue;
      cases.push_back({static_cast<std::uint32_t>(event),
                       [this, event] { write_reactions(common_[event], std::nullopt); }});
    }
    return cases;
  }

  // if (guard) ... else if (guard) ... else ...; `from` is the state that is left, where it is known.
  void write_reactions(const std::vector<Reaction>& reactions, const std::optional<std::size_t> from,
                       std::size_t first = 0) {
    if (first == reactions.size()) return;
    const Reaction& reaction = reactions[first];
    if (reaction.guard.empty() || is_complement_of_last(reactions, first)) {
      write_reaction(reaction, from);
    } else if (first + 1 == reactions.size()) {
      routine_.if_(guard_of(reaction.guard), [&] { write_reaction(reaction, from); });
    } else {
      routine_.if_else(
          guard_of(reaction.guard), [&] { write_reaction(reaction, from); },
          [&] { write_reactions(reactions, from, first + 1); });
    }
  }

  // The opposite of a single condition that has just failed needs no asking.
  static bool is_complement_of_last(const std::vector<Reaction>& reactions, std::size_t at) {
    if (at == 0 || reactions[at].guard.size() != 1 || reactions[at - 1].guard.size() != 1) return false;
    const GuardTerm& term = reactions[at].guard[0];
    const GuardTerm& last = reactions[at - 1].guard[0];
    return term.condition == last.condition && term.expected != last.expected;
  }

  void write_reaction(const Reaction& reaction, const std::optional<std::size_t> from) {
    if (reaction.target) write_leave(from);
    write(reaction.commands);
    if (reaction.target) write_enter(*reaction.target);
  }

  void write_leave(const std::optional<std::size_t> from) {
    if (!leave_ || (from && table_.states[*from].leave.empty())) return;
    if (from && table_.states[*from].leave.size() <= few_commands) {
      write(table_.states[*from].leave);
    } else {
      routine_.call(*leave_);
    }
  }

  void write_enter(const std::size_t target) {
    enter_number(static_cast<std::uint32_t>(target));
    const std::vector<Command>& commands = table_.states[target].enter;
    if (commands.size() <= few_commands) {
      write(commands);
    } else {
      routine_.call(*enter_);
    }
  }

  Expression guard_of(const Guard& guard) {
    std::optional<Expression> all;
    for (const GuardTerm& term : guard) {
      const Expression one = term_of(term);
      all = all ? *all && one : one;
    }
    return *all;
  }

  Expression term_of(const GuardTerm& term) {
    if (term.condition >= table_.external_conditions()) {
      const std::size_t counter = term.condition - table_.external_conditions();
      const std::uint32_t limit = table_.counters[counter].limit;
      return term.expected ? counters_[counter] == limit : counters_[counter] != limit;
    }
    const Expression bit = *conditions_ & (std::uint32_t{1} << term.condition);
    return term.expected ? bit != 0 : bit == 0;
  }

  void write(const std::vector<Command>& commands) {
    for (const Command& command : commands) {
      switch (command.kind) {
        case CommandKind::act:
          routine_.set(*action_, command.index);
          break;
        case CommandKind::start:
          routine_.set(*start_, command.index);
          break;
        case CommandKind::stop:
          routine_.set(*stop_, command.index);
          break;
        case CommandKind::clear:
          routine_.set(counters_[command.index], 0);
          break;
        case CommandKind::count: {
          const Place& counter = counters_[command.index];
          routine_.if_(counter < table_.counters[command.index].limit,
                       [&] { routine_.set(counter, counter + 1); });
          break;
        }
      }
    }
  }

  std::vector<Place> counters_;
  std::vector<std::vector<Reaction>> common_;
  std::optional<firmware::Subroutine> leave_, enter_;
};

}  // namespace

Routine state_machine_by_switch(const StateTable& table) {
  return SwitchRoutine(table).build();
}

Routine state_machine_routine(const StateTable& table, StateMachineMethod method) {
  return method == StateMachineMethod::nested_switch ? state_machine_by_switch(table)
                                                     : state_machine_by_table(table);
}

}  // namespace portweigh::blocks

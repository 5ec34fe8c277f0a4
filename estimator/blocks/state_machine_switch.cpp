// The firmware twin of a state table as nested switch: over the state, then over the event.
//
// What at least half of the states do alike on an event stands once, in a switch after the states, and a new
// state is entered in one place at the end, as one would write it by hand. Tested by
// tests/blocks/state_machine_test.cpp.
#include <algorithm>
#include <utility>

#include "blocks/state_machine_routine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint32_t nothing = 0xFF;  // no state to enter; no event left to react to

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
    declare_leave();
    next_ = routine_.local_u8("next");
    routine_.set(*next_, nothing);
    std::vector<Routine::SwitchCase> states;
    for (std::size_t s = 0; s < table_.states.size(); ++s) {
      auto events = cases_of(s);
      if (events.empty()) continue;
      states.push_back({static_cast<std::uint32_t>(s), [this, events] { routine_.switch_(event_, events); }});
    }
    routine_.switch_(*state_, states);
    const auto common = common_cases();
    if (!common.empty()) routine_.switch_(event_, common);
    routine_.if_(*next_ != nothing, [this] {
      enter_number(*next_);
      if (any_state_has(&State::enter)) routine_.switch_(*next_, command_cases(&State::enter));
    });
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

  void declare_leave() {
    if (!any_state_has(&State::leave)) return;
    leave_ = routine_.subroutine("leave_state", {}, [this](const std::vector<Place>&) {
      routine_.switch_(*state_, command_cases(&State::leave));
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
                         write_reactions(reactions, !table_.states[s].leave.empty());
                         if (!common_[event].empty()) routine_.set(event_, nothing);
                       }});
    }
    return cases;
  }

  std::vector<Routine::SwitchCase> common_cases() {
    std::vector<Routine::SwitchCase> cases;
    for (std::size_t event = 0; event < table_.events.size(); ++event) {
      if (common_[event].empty()) continue;
      cases.push_back({static_cast<std::uint32_t>(event),
                       [this, event] { write_reactions(common_[event], leave_.has_value()); }});
    }
    return cases;
  }

  // if (guard) ... else if (guard) ... else ...
  void write_reactions(const std::vector<Reaction>& reactions, const bool leaves, std::size_t from = 0) {
    if (from == reactions.size()) return;
    const Reaction& reaction = reactions[from];
    if (reaction.guard.empty()) {
      write_reaction(reaction, leaves);
    } else if (from + 1 == reactions.size()) {
      routine_.if_(guard_of(reaction.guard), [&] { write_reaction(reaction, leaves); });
    } else {
      routine_.if_else(
          guard_of(reaction.guard), [&] { write_reaction(reaction, leaves); },
          [&] { write_reactions(reactions, leaves, from + 1); });
    }
  }

  void write_reaction(const Reaction& reaction, const bool leaves) {
    if (reaction.target && leaves) routine_.call(*leave_);
    write(reaction.commands);
    if (reaction.target) routine_.set(*next_, *reaction.target);
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
  std::optional<firmware::Subroutine> leave_;
  std::optional<Place> next_;  // state to enter at the end
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

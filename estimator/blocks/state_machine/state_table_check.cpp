// Decides which rule answers which event in which state, and whether the whole machine makes sense.
//
// Rules of one event in one state must not overlap (two guards that can hold at once) and must cover every
// case, so that network, routine and interpreter have no choice. A timer's event needs a reaction only where
// the timer may be running: found by following starts, stops and expiries along all transitions until
// nothing is added. Tested by tests/blocks/state_machine/state_table_errors_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "blocks/state_machine/state_table_draft.hpp"

namespace portweigh::blocks {
namespace {

using Rules = std::vector<const DraftReaction*>;

std::string text_of(const StateTable& table, const Guard& guard) {
  std::string text;
  for (const GuardTerm& term : guard) {
    text += fmt::format("{}{}{}", text.empty() ? "" : " and ", term.expected ? "" : "not ",
                        table.conditions[term.condition].name);
  }
  return text;
}

// A case that no guard covers, if there is one. Shannon expansion over the conditions that guards mention.
std::optional<Guard> uncovered(const std::vector<Guard>& guards, const Guard& assumed) {
  for (const Guard& guard : guards) {
    if (guard.empty()) return std::nullopt;
  }
  if (guards.empty()) return assumed;
  const std::size_t condition = guards.front().front().condition;
  for (const bool value : {true, false}) {
    std::vector<Guard> remaining;
    for (Guard guard : guards) {
      const auto term = std::find_if(guard.begin(), guard.end(),
                                     [&](const GuardTerm& t) { return t.condition == condition; });
      if (term != guard.end()) {
        if (term->expected != value) continue;
        guard.erase(term);
      }
      remaining.push_back(std::move(guard));
    }
    Guard extended = assumed;
    extended.push_back({condition, value});
    if (const auto missing = uncovered(remaining, extended)) return missing;
  }
  return std::nullopt;
}

class Resolver {
 public:
  explicit Resolver(Draft& draft) : draft_(draft) {}

  void run() {
    for (DraftState& state : draft_.states) {
      state.state.reactions.resize(draft_.table.events.size());
      for (std::size_t event = 0; event < draft_.table.events.size(); ++event) {
        Rules rules = rules_for(state, event);
        if (!rules.empty()) state.state.reactions[event] = settle(state, event, rules);
      }
    }
  }

 private:
  static Rules matching(const std::vector<DraftReaction>& rules, Rank rank, std::size_t event) {
    Rules found;
    for (const DraftReaction& rule : rules) {
      if (rule.rank == rank && (rank == Rank::others || rule.event == event)) found.push_back(&rule);
    }
    return found;
  }

  Rules rules_for(const DraftState& state, std::size_t event) const {
    for (const Rank rank : {Rank::named, Rank::group}) {
      if (Rules own = matching(state.rules, rank, event); !own.empty()) return own;
    }
    for (const Rank rank : {Rank::named, Rank::group}) {
      if (Rules general = matching(draft_.anywhere, rank, event); !general.empty()) return general;
    }
    Rules rest = matching(state.rules, Rank::others, event);
    return rest.empty() ? matching(draft_.anywhere, Rank::others, event) : rest;
  }

  std::vector<Reaction> settle(const DraftState& state, std::size_t event, const Rules& rules) {
    const StateTable& table = draft_.table;
    for (std::size_t i = 0; i < rules.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) compare(state, event, *rules[j], *rules[i]);
    }
    for (const DraftReaction* rule : rules) check_counters(state, *rule);
    std::vector<Guard> guards;
    std::vector<Reaction> settled;
    for (const DraftReaction* rule : rules) guards.push_back(rule->reaction.guard);
    if (const auto missing = uncovered(guards, {})) {
      Mention place = rules.front()->place;
      place.report(
          fmt::format("event \"{}\" has no reaction in state \"{}\" when {}; expected one without \"when\", "
                      "or the event in \"ignore\"",
                      table.events[event].name, state.state.name, text_of(table, *missing)));
    }
    for (const DraftReaction* rule : rules) {
      if (!rule->reaction.guard.empty()) settled.push_back(rule->reaction);
    }
    for (const DraftReaction* rule : rules) {
      if (rule->reaction.guard.empty()) settled.push_back(rule->reaction);
    }
    return settled;
  }

  // Both in the same clock would leave the order open.
  void check_counters(const DraftState& state, const DraftReaction& rule) {
    std::vector<Command> commands = rule.reaction.commands;
    if (rule.reaction.target) {
      commands.insert(commands.end(), state.state.leave.begin(), state.state.leave.end());
    }
    for (const Command& command : commands) {
      const Command opposite{CommandKind::clear, command.index};
      if (command.kind != CommandKind::count ||
          std::find(commands.begin(), commands.end(), opposite) == commands.end()) {
        continue;
      }
      Mention place = rule.place;
      place.report(fmt::format("counter \"{}\" is counted and cleared in one step, expected one of them",
                               draft_.table.counters[command.index].name));
    }
  }

  void compare(const DraftState& state, std::size_t event, const DraftReaction& first,
               const DraftReaction& second) {
    const StateTable& table = draft_.table;
    Mention place = second.place;
    const Guard& a = first.reaction.guard;
    const Guard& b = second.reaction.guard;
    if (a == b) {
      place.report(fmt::format("event \"{}\" has two reactions in state \"{}\"{}, expected one",
                               table.events[event].name, state.state.name,
                               a.empty() ? "" : fmt::format(" when {}", text_of(table, a))));
    } else if (!a.empty() && !b.empty() && can_hold_together(a, b)) {
      place.report(
          fmt::format("guards \"{}\" and \"{}\" of event \"{}\" in state \"{}\" can hold at the same time, "
                      "expected guards that exclude each other",
                      text_of(table, a), text_of(table, b), table.events[event].name, state.state.name));
    }
  }

  Draft& draft_;
};

// What may happen: states reached, timers that may run in each.
class Exploration {
 public:
  explicit Exploration(const Draft& draft)
      : draft_(draft), reached_(draft.states.size(), false), running_(draft.states.size()) {
    if (draft_.states.empty()) return;
    arrive(0, apply(draft_.states[0].state.enter, {}));
    while (!open_.empty()) {
      const std::size_t next = *open_.begin();
      open_.erase(open_.begin());
      follow(next);
    }
  }

  bool is_reached(std::size_t state) const { return reached_[state]; }
  bool may_run(std::size_t timer, std::size_t state) const { return running_[state].contains(timer); }

 private:
  using Timers = std::set<std::size_t>;

  static Timers apply(const std::vector<Command>& commands, Timers timers) {
    for (const Command& command : commands) {
      if (command.kind == CommandKind::start) timers.insert(command.index);
      if (command.kind == CommandKind::stop) timers.erase(command.index);
    }
    return timers;
  }

  void arrive(std::size_t state, const Timers& timers) {
    const std::size_t before = running_[state].size();
    running_[state].insert(timers.begin(), timers.end());
    if (!reached_[state] || running_[state].size() != before) open_.insert(state);
    reached_[state] = true;
  }

  void follow(std::size_t from) {
    const State& state = draft_.states[from].state;
    for (std::size_t event = 0; event < state.reactions.size(); ++event) {
      Timers timers = running_[from];
      if (event >= draft_.table.external_events()) {
        const std::size_t expired = event - draft_.table.external_events();
        if (timers.erase(expired) == 0) continue;
      }
      for (const Reaction& reaction : state.reactions[event]) {
        const Timers after = apply(reaction.commands, reaction.target ? apply(state.leave, timers) : timers);
        const std::size_t to = reaction.target.value_or(from);
        arrive(to, reaction.target ? apply(draft_.states[to].state.enter, after) : after);
      }
    }
  }

  const Draft& draft_;
  std::vector<bool> reached_;
  std::vector<Timers> running_;
  std::set<std::size_t> open_;
};

// How often each name is used in states and rules.
struct Usage {
  std::set<std::size_t> events, conditions, actions, outputs, scoped, started, stopped, counted;

  void add(const std::vector<Command>& commands) {
    for (const Command& command : commands) {
      if (command.kind == CommandKind::act) actions.insert(command.index);
      if (command.kind == CommandKind::start) started.insert(command.index);
      if (command.kind == CommandKind::stop) stopped.insert(command.index);
      if (command.kind == CommandKind::count) counted.insert(command.index);
    }
  }
  void add(const Reaction& reaction, std::size_t event) {
    add(reaction.commands);
    for (const GuardTerm& term : reaction.guard) conditions.insert(term.condition);
    if (!reaction.is_nothing()) events.insert(event);
  }
};

Usage usage_of(const Draft& draft) {
  Usage usage;
  for (const DraftState& draft_state : draft.states) {
    const State& state = draft_state.state;
    const auto timers = static_cast<std::ptrdiff_t>(state.timers.size());
    usage.outputs.insert(state.outputs.begin(), state.outputs.end());
    usage.scoped.insert(state.timers.begin(), state.timers.end());
    // The starts and stops of the state's own timers stand first and last.
    usage.add(std::vector<Command>(state.enter.begin() + timers, state.enter.end()));
    usage.add(std::vector<Command>(state.leave.begin(), state.leave.end() - timers));
    for (std::size_t event = 0; event < state.reactions.size(); ++event) {
      for (const Reaction& reaction : state.reactions[event]) usage.add(reaction, event);
    }
  }
  for (const DraftReaction& rule : draft.anywhere) usage.add(rule.reaction.commands);
  return usage;
}

void check_used(std::vector<Mention>& places, const std::set<std::size_t>& used, std::string_view noun,
                std::string_view expected) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (!used.contains(i)) places[i].report(fmt::format("{} \"{}\" {}", noun, places[i].key, expected));
  }
}

// No command starts or stops it, and its expiry always leaves the state it belongs to.
bool is_scoped(const Draft& draft, std::size_t timer, const Usage& usage) {
  if (usage.started.contains(timer) || usage.stopped.contains(timer)) return false;
  return std::all_of(draft.states.begin(), draft.states.end(), [&](const DraftState& one) {
    const auto& timers = one.state.timers;
    if (std::find(timers.begin(), timers.end(), timer) == timers.end()) return true;
    const auto& reactions = one.state.reactions[draft.table.timers[timer].event];
    return std::all_of(reactions.begin(), reactions.end(),
                       [](const Reaction& r) { return r.target.has_value(); });
  });
}

void check_timers(Draft& draft, const Usage& usage) {
  for (std::size_t i = 0; i < draft.table.timers.size(); ++i) {
    StateTimer& timer = draft.table.timers[i];
    timer.is_scoped = is_scoped(draft, i, usage);
    Mention& place = draft.timer_places[i];
    if (!usage.started.contains(i) && !usage.scoped.contains(i)) {
      place.report(fmt::format(
          "timer \"{0}\" is never started, expected \"start {0}\" or a state with timers = [\"{0}\"]",
          timer.name));
    } else if (usage.started.contains(i) && !usage.stopped.contains(i) && !usage.scoped.contains(i)) {
      place.report(fmt::format(
          "timer \"{0}\" is never stopped, expected \"stop {0}\" or a state with timers = [\"{0}\"]",
          timer.name));
    }
  }
}

void check_events(Draft& draft, const Exploration& exploration) {
  const StateTable& table = draft.table;
  for (std::size_t s = 0; s < draft.states.size(); ++s) {
    DraftState& draft_state = draft.states[s];
    for (std::size_t event = 0; event < table.events.size(); ++event) {
      const bool may_happen = event < table.external_events() ||
                              exploration.may_run(event - table.external_events(), s) ||
                              !exploration.is_reached(s);
      const bool has_reaction = !draft_state.state.reactions[event].empty();
      const auto own =
          std::find_if(draft_state.rules.begin(), draft_state.rules.end(),
                       [&](const auto& rule) { return rule.rank == Rank::named && rule.event == event; });
      if (may_happen && !has_reaction && exploration.is_reached(s)) {
        draft_state.place.report(fmt::format(
            "state \"{}\" has no reaction to event \"{}\", expected a row in \"on\", or the event in "
            "\"ignore\"",
            draft_state.state.name, table.events[event].name));
      } else if (!may_happen && own != draft_state.rules.end()) {
        own->place.report(fmt::format(
            "state \"{}\" reacts to event \"{}\", but timer \"{}\" never runs there", draft_state.state.name,
            table.events[event].name, table.timers[event - table.external_events()].name));
      }
    }
  }
}

// Told already; transitions lead to the first of that name.
bool is_repeated(const Draft& draft, std::size_t s) {
  return std::any_of(draft.states.begin(), draft.states.begin() + static_cast<std::ptrdiff_t>(s),
                     [&](const DraftState& other) { return other.state.name == draft.states[s].state.name; });
}

}  // namespace

void resolve_reactions(Draft& draft) {
  Resolver(draft).run();
}

void check_machine(Draft& draft) {
  const Usage usage = usage_of(draft);
  check_used(draft.event_places, usage.events, "event", "changes nothing in any state, expected a reaction");
  check_used(draft.condition_places, usage.conditions, "condition",
             "is never asked, expected it in a \"when\"");
  check_used(draft.action_places, usage.actions, "action",
             "is never done, expected it in \"do\", \"enter\" or \"leave\"");
  check_used(draft.output_places, usage.outputs, "output", "is held by no state, expected it in \"outputs\"");
  check_used(draft.counter_places, usage.counted, "counter",
             "is never counted, expected a \"count\" command");
  check_timers(draft, usage);
  if (!draft.initial_place) return;
  const Exploration exploration(draft);
  for (std::size_t s = 0; s < draft.states.size(); ++s) {
    if (!exploration.is_reached(s) && !is_repeated(draft, s)) {
      draft.states[s].place.report(
          fmt::format("state \"{}\" is unreachable, expected a transition to it from a "
                      "state that can be reached from \"{}\"",
                      draft.states[s].state.name, draft.states[0].state.name));
    }
  }
  check_events(draft, exploration);
}

}  // namespace portweigh::blocks

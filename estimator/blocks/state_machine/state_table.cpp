// Names of a state table, and the plain interpreter that the hardware and firmware twins are checked against.
#include "blocks/state_machine/state_table.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <stdexcept>

namespace portweigh::blocks {
namespace {

template <class Items>
std::size_t index_of(const Items& items, std::string_view name, std::string_view noun) {
  const auto found =
      std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.name == name; });
  if (found == items.end()) throw std::out_of_range(fmt::format("no {} \"{}\"", noun, name));
  return static_cast<std::size_t>(std::distance(items.begin(), found));
}

}  // namespace

std::size_t StateTable::state(std::string_view wanted) const {
  return index_of(states, wanted, "state");
}
std::size_t StateTable::event(std::string_view wanted) const {
  return index_of(events, wanted, "event");
}
std::size_t StateTable::condition(std::string_view wanted) const {
  return index_of(conditions, wanted, "condition");
}

std::size_t StateTable::reaction_count() const {
  std::size_t count = 0;
  for (const State& one : states) {
    for (const auto& reactions : one.reactions) {
      count += static_cast<std::size_t>(std::count_if(reactions.begin(), reactions.end(),
                                                      [](const Reaction& r) { return !r.is_nothing(); }));
    }
  }
  return count;
}

bool holds(const Guard& guard, std::uint64_t conditions) {
  return std::all_of(guard.begin(), guard.end(), [&](const GuardTerm& term) {
    return (((conditions >> term.condition) & 1U) != 0) == term.expected;
  });
}

bool can_hold_together(const Guard& a, const Guard& b) {
  return std::none_of(a.begin(), a.end(), [&](const GuardTerm& term) {
    return std::any_of(b.begin(), b.end(), [&](const GuardTerm& other) {
      return term.condition == other.condition && term.expected != other.expected;
    });
  });
}

StateWalk::StateWalk(const StateTable& table)
    : table_(&table), counters_(table.counters.size(), 0), running_(table.timers.size(), false) {}

std::vector<Command> StateWalk::begin() {
  std::vector<Command> done;
  carry_out(table_->states[state_].enter, done);
  return done;
}

const Reaction* StateWalk::reaction(std::size_t event, std::uint64_t conditions) const {
  for (std::size_t i = 0; i < counters_.size(); ++i) {
    const std::uint64_t bit = std::uint64_t{1} << table_->counters[i].condition;
    conditions = counters_[i] == table_->counters[i].limit ? conditions | bit : conditions & ~bit;
  }
  for (const Reaction& candidate : table_->states[state_].reactions.at(event)) {
    if (holds(candidate.guard, conditions)) return candidate.is_nothing() ? nullptr : &candidate;
  }
  return nullptr;
}

std::vector<Command> StateWalk::step(std::size_t event, std::uint64_t conditions) {
  std::vector<Command> done;
  if (event >= table_->external_events()) {
    const std::size_t timer = event - table_->external_events();
    if (!running_[timer]) return done;
    running_[timer] = false;
  }
  const Reaction* const chosen = reaction(event, conditions);
  if (chosen == nullptr) return done;
  if (chosen->target) carry_out(table_->states[state_].leave, done);
  carry_out(chosen->commands, done);
  if (chosen->target) {
    state_ = *chosen->target;
    carry_out(table_->states[state_].enter, done);
  }
  return done;
}

void StateWalk::carry_out(const std::vector<Command>& commands, std::vector<Command>& done) {
  for (const Command& command : commands) {
    if (command.kind == CommandKind::count) {
      unsigned& value = counters_[command.index];
      value = std::min(value + 1, table_->counters[command.index].limit);
    }
    if (command.kind == CommandKind::clear) counters_[command.index] = 0;
    if (command.kind == CommandKind::start) running_[command.index] = true;
    if (command.kind == CommandKind::stop) running_[command.index] = false;
    done.push_back(command);
  }
}

}  // namespace portweigh::blocks

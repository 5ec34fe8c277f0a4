// A plausible state machine of a given size, for estimates before anybody has written a table.
//
// States follow one another mostly in a row, as protocol steps do, with branches and returns; in each state
// the conditions are asked in turn (if a ... else if b and not c ...), as register-transfer code does; a
// guard asks for one to three, since a counter compared with a constant is several. Level outputs are held by
// about a quarter of the states, strobes come from about a sixth of the transitions. The seed is made of the
// sizes, so the same size always gives the same machine. Tested by tests/blocks/state_machine/state_machine_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <numeric>
#include <random>

#include "blocks/state_machine/state_machine.hpp"

namespace portweigh::blocks {
namespace {

class SizeGenerator {
 public:
  explicit SizeGenerator(const MachineSize& size)
      : size_(size),
        random_(size.states * 1000003 + size.inputs * 10007 + size.outputs * 101 + size.transitions) {}

  StateTable generate() {
    name_signals();
    table_.states.resize(size_.states);
    for (std::size_t s = 0; s < size_.states; ++s) {
      table_.states[s].name = fmt::format("s{}", s);
      table_.states[s].reactions.resize(1);
    }
    choose_transitions();
    for (std::size_t s = 0; s < size_.states; ++s) write_reactions(s);
    place_levels();
    place_strobes();
    return std::move(table_);
  }

 private:
  std::size_t below(std::size_t limit) { return random_() % limit; }

  void name_signals() {
    table_.name = "generated";
    table_.summary = fmt::format("{} states, {} inputs, {} outputs, {} transitions", size_.states,
                                 size_.inputs, size_.outputs, size_.transitions);
    table_.source = "generated from its size";
    table_.events.push_back({"step", "look at the inputs"});
    for (std::size_t i = 1; i < size_.inputs; ++i)
      table_.conditions.push_back({fmt::format("input-{}", i), ""});
    const std::size_t levels = (size_.outputs + 1) / 2;
    for (std::size_t i = 0; i < levels; ++i) table_.outputs.push_back({fmt::format("level-{}", i), ""});
    for (std::size_t i = levels; i < size_.outputs; ++i)
      table_.actions.push_back({fmt::format("strobe-{}", i), ""});
  }

  // First one way into every state, then one way out of those that have none, then wherever there is room.
  void choose_transitions() {
    targets_.resize(size_.states);
    const std::size_t room = size_.inputs;  // one for each condition and one without
    std::size_t left = size_.transitions;
    for (std::size_t s = 1; s < size_.states && left > 0; ++s, --left) {
      std::size_t from = below(4) != 0 ? s - 1 : below(s);
      while (targets_[from].size() >= room) from = from == 0 ? s - 1 : from - 1;
      targets_[from].push_back(s);
    }
    for (std::size_t s = 0; s < size_.states && left > 0; ++s) {
      if (!targets_[s].empty()) continue;
      targets_[s].push_back(below(3) == 0 ? below(size_.states) : 0);
      --left;
    }
    std::vector<std::size_t> open(size_.states);
    std::iota(open.begin(), open.end(), std::size_t{0});
    while (left > 0 && !open.empty()) {
      const std::size_t place = below(open.size());
      const std::size_t from = open[place];
      if (targets_[from].size() >= room) {
        open.erase(open.begin() + static_cast<std::ptrdiff_t>(place));
        continue;
      }
      targets_[from].push_back(below(size_.states));
      --left;
    }
  }

  void write_reactions(std::size_t s) {
    std::vector<std::size_t> order(table_.conditions.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::shuffle(order.begin(), order.end(), random_);
    std::vector<GuardTerm> asked;  // what earlier guards ask first
    for (std::size_t i = 0; i < targets_[s].size(); ++i) {
      const bool is_last = i + 1 == targets_[s].size();
      const bool is_free = i >= order.size() || (is_last && below(3) == 0);
      Reaction reaction;
      if (!is_free) {
        asked.push_back({order[i], below(4) != 0});
        reaction.guard = choose_guard(asked);
      }
      reaction.target = targets_[s][i];
      table_.states[s].reactions[0].push_back(std::move(reaction));
    }
  }

  // The last condition of `asked`, alone or with one or two others. Where an earlier guard asked for one of
  // these, the opposite is asked, or the reaction could never be met.
  Guard choose_guard(const std::vector<GuardTerm>& asked) {
    constexpr std::size_t shares[] = {0, 0, 0, 0, 0, 1, 1, 1, 2, 2};  // further conditions, in tenths
    Guard guard = {asked.back()};
    for (std::size_t more = shares[below(std::size(shares))]; more > 0; --more) {
      const std::size_t condition = below(table_.conditions.size());
      const auto same = [&](const GuardTerm& term) { return term.condition == condition; };
      if (std::any_of(guard.begin(), guard.end(), same)) continue;
      const auto earlier = std::find_if(asked.begin(), asked.end(), same);
      guard.push_back({condition, earlier == asked.end() ? below(2) == 0 : !earlier->expected});
    }
    std::sort(guard.begin(), guard.end());
    return guard;
  }

  void place_levels() {
    for (std::size_t output = 0; output < table_.outputs.size(); ++output) {
      const std::size_t sure = below(size_.states);
      for (std::size_t s = 0; s < size_.states; ++s) {
        if (s == sure || below(4) == 0) table_.states[s].outputs.push_back(output);
      }
    }
  }

  void place_strobes() {
    std::vector<Reaction*> all;
    for (State& state : table_.states) {
      for (Reaction& reaction : state.reactions[0]) all.push_back(&reaction);
    }
    for (std::size_t action = 0; action < table_.actions.size(); ++action) {
      const std::size_t sure = below(all.size());
      for (std::size_t i = 0; i < all.size(); ++i) {
        if (i == sure || below(6) == 0) all[i]->commands.push_back({CommandKind::act, action});
      }
    }
  }

  MachineSize size_;
  std::mt19937_64 random_;
  StateTable table_;
  std::vector<std::vector<std::size_t>> targets_;
};

}  // namespace

StateTable generate_state_table(const MachineSize& size) {
  return SizeGenerator(size).generate();
}

}  // namespace portweigh::blocks

#include "blocks/state_machine/state_traffic.hpp"

namespace portweigh::blocks {

StateTraffic::StateTraffic(const StateTable& table, std::uint64_t seed)
    : table_(&table), walk_(table), visits_(table.states.size(), 0), random_(seed) {
  walk_.begin();
}

StateTraffic::Step StateTraffic::next() {
  const std::size_t width = table_->external_conditions();
  const std::uint64_t conditions = random_() & ((std::uint64_t{1} << width) - 1);
  Step step{choose_event(conditions), conditions, {}};
  step.commands = walk_.step(step.event, conditions);
  ++visits_[walk_.state()];
  return step;
}

std::size_t StateTraffic::choose_event(std::uint64_t conditions) {
  std::vector<std::size_t> useful;
  std::vector<std::size_t> possible;
  for (std::size_t event = 0; event < table_->events.size(); ++event) {
    const bool is_external = event < table_->external_events();
    if (!is_external && !walk_.is_running(event - table_->external_events())) continue;
    possible.push_back(event);
    if (walk_.reaction(event, conditions) != nullptr) useful.push_back(event);
  }
  // An event that can't come does nothing: for machines whose timers all rest and that know no other events.
  if (possible.empty()) return 0;
  if (useful.empty() || random_() % 8 == 0) return possible[random_() % possible.size()];
  if (random_() % 4 == 0) return useful[random_() % useful.size()];
  return least_visited(useful, conditions);
}

std::size_t StateTraffic::least_visited(const std::vector<std::size_t>& events, std::uint64_t conditions) {
  const auto visits_after = [&](std::size_t event) {
    return visits_[walk_.reaction(event, conditions)->target.value_or(walk_.state())];
  };
  const std::size_t first = random_() % events.size();
  std::size_t best = events[first];
  for (std::size_t i = 1; i < events.size(); ++i) {
    const std::size_t event = events[(first + i) % events.size()];
    if (visits_after(event) < visits_after(best)) best = event;
  }
  return best;
}

}  // namespace portweigh::blocks

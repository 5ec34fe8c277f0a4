#include "blocks/state_traffic.hpp"

namespace portweigh::blocks {

StateTraffic::StateTraffic(const StateTable& table, std::uint64_t seed)
    : table_(&table), walk_(table), random_(seed) {
  walk_.begin();
}

StateTraffic::Step StateTraffic::next() {
  const std::size_t width = table_->external_conditions();
  const std::uint64_t conditions = random_() & ((std::uint64_t{1} << width) - 1);
  Step step{choose_event(conditions), conditions, {}};
  step.commands = walk_.step(step.event, conditions);
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
  const std::vector<std::size_t>& choice = useful.empty() || random_() % 8 == 0 ? possible : useful;
  // Without external events a machine whose timers rest would wait for ever; an event that can't come does
  // nothing.
  return choice.empty() ? 0 : choice[random_() % choice.size()];
}

}  // namespace portweigh::blocks

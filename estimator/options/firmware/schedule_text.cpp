// What limits a schedule, in words.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "figures/units/format_quantity.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {
namespace {

using figures::format_quantity;
namespace dimensions = figures::dimensions;

// Clock that a task takes by itself, at its highest rate.
double own_clock_hz(const ScheduledTask& task) {
  return task.contained_in.empty() ? task.worst_cycles.typical / (task.rule.period_s * task.batch) : 0.0;
}

// The task that can take most of the processor's time.
const ScheduledTask& heaviest(const Schedule& schedule) {
  return *std::max_element(schedule.tasks.begin(), schedule.tasks.end(),
                           [](const auto& a, const auto& b) { return own_clock_hz(a) < own_clock_hz(b); });
}

// "621 cycles for each of 33 thousand bytes a second".
std::string load_text(const ScheduledTask& task) {
  return fmt::format("{:.0f} cycles for each of {:.0f} thousand {}s a second",
                     task.worst_cycles.typical / task.batch, 1e-3 / task.rule.period_s,
                     name_of(task.is_spread ? blocks::Event::byte : task.figures->event));
}

// What makes more clocks of cycles: " at 4 clocks a cycle, wait states x1.35".
std::string stretch_text(const Processor& processor, double clock_hz) {
  std::vector<std::string> parts;
  if (processor.clocks_per_cycle != 1) {
    parts.push_back(fmt::format("{:g} clocks a cycle", processor.clocks_per_cycle));
  }
  const double stretch = firmware::wait_state_stretch(*processor.core, clock_hz);
  if (stretch > 1) parts.push_back(fmt::format("wait states x{:.3g}", stretch));
  return parts.empty() ? "" : fmt::format(" at {}", fmt::join(parts, ", "));
}

}  // namespace

std::string describe_limit(const Schedule& schedule) {
  const auto task = std::find_if(schedule.tasks.begin(), schedule.tasks.end(),
                                 [&](const auto& other) { return other.block == schedule.limiting_task; });
  if (task == schedule.tasks.end()) return "no deadline limits the clock";
  std::string text =
      fmt::format("{} ({}, method {}): {:.0f} cycles for each {}, to be done within {}", task->block,
                  name_of(task->figures->event), task->figures->method, task->worst_cycles.typical,
                  task->batch > 1   ? fmt::format("{:.0f} events", task->batch)
                  : task->is_spread ? "byte"
                                    : "event",
                  format_quantity(task->batch > 1 ? task->rule.period_s * task->batch : task->rule.deadline_s,
                                  dimensions::time));
  const ScheduledTask& busiest = heaviest(schedule);
  if (busiest.block != task->block) {
    text += fmt::format(", beside {} with {}", busiest.block, load_text(busiest));
  }
  text += fmt::format(", needs {}", format_quantity(schedule.required_hz.typical, dimensions::frequency));
  // The clock is chosen so that deadlines hold at the high end too.
  if (schedule.required_hz.high > schedule.required_hz.typical) {
    text += fmt::format(" ({} with all cycles at the high end of their ranges)",
                        format_quantity(schedule.required_hz.high, dimensions::frequency));
  }
  return text;
}

std::string describe_shortfall(const Schedule& schedule, const Processor& processor) {
  const double highest_hz = processor.clocks_hz.back();
  const double clocks =
      processor.clocks_per_cycle * firmware::wait_state_stretch(*processor.core, highest_hz);
  std::vector<std::string> overloads;
  std::set<Direction> directions;
  for (const ScheduledTask& task : schedule.tasks) {
    const double alone_hz = own_clock_hz(task) * (task.is_in_ram ? processor.clocks_per_cycle : clocks);
    if (alone_hz <= highest_hz) continue;
    directions.insert(task.rule.direction);
    overloads.push_back(fmt::format("{} ({}, method {}) takes {}, {} alone{}", task.block,
                                    name_of(task.figures->event), task.figures->method, load_text(task),
                                    format_quantity(alone_hz, dimensions::frequency),
                                    stretch_text(processor, highest_hz)));
  }
  const std::string highest = format_quantity(highest_hz, dimensions::frequency);
  if (overloads.empty()) {
    return fmt::format("{}{}, but the highest clock is {}", describe_limit(schedule),
                       stretch_text(processor, highest_hz), highest);
  }
  // The line is half-duplex: what receives and what transmits don't add up.
  const bool is_alternating =
      directions.contains(Direction::receive) && directions.contains(Direction::transmit);
  return fmt::format("{}; {} they need {}, but the highest clock is {}", fmt::join(overloads, "; "),
                     is_alternating ? "receiving and transmitting never at once, with the other tasks"
                                    : "together with the other tasks",
                     format_quantity(schedule.required_hz.typical, dimensions::frequency), highest);
}

}  // namespace portweigh::options

#include "options/schedule.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures/format_quantity.hpp"

namespace portweigh::options {
namespace {

// Longest piece of code with interrupts masked: taking a byte from a queue. Common practice.
constexpr double masked_cycles = 12;
constexpr double highest_clock_hz = 1e11;

bool is_available(const FirmwareFigures& figures, const std::map<std::string, unsigned>& peripherals) {
  return std::all_of(figures.peripherals.begin(), figures.peripherals.end(), [&](const std::string& name) {
    const auto found = peripherals.find(name);
    return found != peripherals.end() && found->second > 0;
  });
}

// A method set by hand in the function is the only one; a crc unit is never a matter of the setting.
bool is_allowed(const study::FunctionBlock& block, const std::string& method) {
  for (const auto& [name, value] : block.settings.values()) {
    if (name != "method" || !block.settings.was_set("method")) continue;
    const auto* chosen = std::get_if<std::string>(&value);
    return chosen == nullptr || *chosen == method;
  }
  return true;
}

firmware::CostRange scaled(const firmware::CostRange& range, double factor, double added) {
  return {range.low * factor + added, range.typical * factor + added, range.high * factor + added};
}

// Bytes on the wire of the messages on which a framing routine ran: its payload and the check sum.
double coded_bytes(const study::FunctionBlock& block) {
  constexpr double check_sum_bytes = 4;
  return static_cast<double>(block.settings.integer("payload_bytes")) + check_sum_bytes;
}

ScheduledTask make_task(const study::FunctionBlock& block, const FirmwareFigures& figures,
                        const Processor& processor, const study::Timing& timing) {
  ScheduledTask task;
  task.block = block.name;
  task.figures = &figures;
  task.rule = rule_for(block, figures.event, timing);
  task.batch = task.rule.is_interrupt ? figures.batch : 1;
  const firmware::Core& core = *processor.core;
  const double overhead = task.rule.is_interrupt ? core.interrupt_entry_cycles + core.interrupt_frame_cycles +
                                                       core.interrupt_exit_cycles
                                                 : 0;
  // A whole message is worked off byte by byte as it arrives or leaves; the routine ran on messages of a set
  // length.
  const bool is_spread = figures.event == "message" && block.layer == study::Layer::physical;
  const double share = is_spread ? 1 / coded_bytes(block) : 1;
  task.mean_cycles = scaled(figures.cost.cycles, share, overhead / task.batch);
  task.worst_cycles = scaled(figures.worst_cycles, share * task.batch, overhead);
  return task;
}

double mean_rate(const ScheduledTask& task) {
  return task.rule.mean_rate_hz + task.rule.attached_rate_hz;
}

// The method with the fewest cycles a second among those the part's peripherals allow.
std::optional<ScheduledTask> choose_task(const Context& context, const study::FunctionBlock& block,
                                         const Processor& processor) {
  std::optional<ScheduledTask> best;
  const auto& methods = context.library.firmware({block.kind, block.settings}, processor.core->name);
  for (const FirmwareFigures& figures : methods) {
    if (!is_allowed(block, figures.method)) continue;
    if (!is_available(figures, processor.peripherals)) continue;
    ScheduledTask task = make_task(block, figures, processor, context.study.function.timing);
    if (!best || mean_rate(task) * task.mean_cycles.typical < mean_rate(*best) * best->mean_cycles.typical) {
      best = std::move(task);
    }
  }
  return best;
}

bool works_in(Direction task, Direction mode) {
  return task == Direction::both || task == mode;
}

// Framing in firmware computes symbols and check sums in the same pass (event "message").
void mark_contained(std::vector<ScheduledTask>& tasks, std::span<const study::FunctionBlock* const> blocks) {
  const auto block_of = [&](const ScheduledTask& task) {
    return *std::find_if(blocks.begin(), blocks.end(),
                         [&](const auto* block) { return block->name == task.block; });
  };
  for (ScheduledTask& inner : tasks) {
    const std::string& kind = block_of(inner)->kind->name;
    if (kind != "crc" && kind != "symbol-code") continue;
    for (const ScheduledTask& outer : tasks) {
      const bool same_way =
          inner.rule.direction == Direction::both || inner.rule.direction == outer.rule.direction;
      if (block_of(outer)->kind->name == "framing" && same_way) inner.contained_in = outer.block;
    }
  }
}

double cycles_at(const firmware::CostRange& range, int level) {
  return level == 0 ? range.low : level == 1 ? range.typical : range.high;
}

std::vector<firmware::CycleTask> task_set(const std::vector<ScheduledTask>& tasks, Direction mode, int level,
                                          double clocks_per_cycle) {
  std::vector<firmware::CycleTask> set;
  for (const ScheduledTask& task : tasks) {
    if (!task.contained_in.empty() || !works_in(task.rule.direction, mode)) continue;
    const EventRule& rule = task.rule;
    firmware::CycleTask timed;
    timed.name = task.block;
    timed.cycles = cycles_at(task.worst_cycles, level) * clocks_per_cycle;
    timed.period_s = rule.period_s * task.batch;
    timed.jitter_s = task.batch > 1 ? 0 : rule.jitter_s;
    timed.deadline_s = task.batch > 1 ? rule.period_s * task.batch : rule.deadline_s + rule.jitter_s;
    timed.blocking_cycles = masked_cycles * clocks_per_cycle;
    set.push_back(timed);
  }
  std::stable_sort(set.begin(), set.end(),
                   [](const auto& a, const auto& b) { return a.deadline_s < b.deadline_s; });
  return set;
}

struct Verdict {
  bool holds = true;
  std::vector<firmware::TaskResponse> responses;
};

Verdict analyse_both_ways(const std::vector<ScheduledTask>& tasks, const Processor& processor, int level,
                          double clock_hz) {
  Verdict verdict;
  for (const Direction mode : {Direction::receive, Direction::transmit}) {
    auto set = task_set(tasks, mode, level, processor.clocks_per_cycle);
    // Beyond the part's own clocks the question is how fast a part of this kind would have to be, its memory
    // with it.
    const double stretch =
        firmware::wait_state_stretch(*processor.core, std::min(clock_hz, processor.clocks_hz.back()));
    for (auto& task : set) {
      task.cycles *= stretch;
      task.blocking_cycles *= stretch;
    }
    for (auto& response : firmware::analyse(set, clock_hz)) {
      verdict.holds = verdict.holds && response.meets_deadline;
      const auto same = std::find_if(verdict.responses.begin(), verdict.responses.end(),
                                     [&](const auto& other) { return other.name == response.name; });
      if (same == verdict.responses.end()) {
        verdict.responses.push_back(std::move(response));
      } else if (response.slack_s < same->slack_s) {
        *same = std::move(response);
      }
    }
  }
  return verdict;
}

double lowest_any_clock(const std::vector<ScheduledTask>& tasks, const Processor& processor, int level) {
  if (tasks.empty()) return 0;
  double low = 1e3;
  double high = highest_clock_hz;
  if (!analyse_both_ways(tasks, processor, level, high).holds) return highest_clock_hz;
  while (high / low > 1.0005) {
    const double middle = std::sqrt(low * high);
    (analyse_both_ways(tasks, processor, level, middle).holds ? high : low) = middle;
  }
  return high;
}

std::optional<double> lowest_allowed(const std::vector<ScheduledTask>& tasks, const Processor& processor,
                                     int level) {
  for (const double clock_hz : processor.clocks_hz) {
    if (analyse_both_ways(tasks, processor, level, clock_hz).holds) return clock_hz;
  }
  return std::nullopt;
}

void name_limit(Schedule& schedule, const Processor& processor) {
  const Verdict below = analyse_both_ways(schedule.tasks, processor, 1, schedule.required_hz.typical * 0.995);
  double worst = 0;
  for (const firmware::TaskResponse& response : below.responses) {
    if (response.meets_deadline) continue;
    const auto task = std::find_if(schedule.tasks.begin(), schedule.tasks.end(),
                                   [&](const auto& other) { return other.block == response.name; });
    const double relative = response.response_s ? -response.slack_s / task->rule.deadline_s : 1e9;
    if (relative >= worst) {
      worst = relative;
      schedule.limiting_task = response.name;
      schedule.limiting_deadline_s = task->rule.deadline_s;
    }
  }
}

// Cycles a second at the clock that was chosen, wait states included.
void add_up(Schedule& schedule, const Processor& processor) {
  const double clock_hz = schedule.clock_hz.value_or(processor.clocks_hz.back());
  const double clocks = processor.clocks_per_cycle * firmware::wait_state_stretch(*processor.core, clock_hz);
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const double share = task.rule.direction == Direction::both ? 1.0 : 0.5;
    for (const auto member :
         {&firmware::CostRange::low, &firmware::CostRange::typical, &firmware::CostRange::high}) {
      schedule.busy_hz.*member += share * task.rule.mean_rate_hz * task.mean_cycles.*member * clocks;
      schedule.attached_hz.*member += task.rule.attached_rate_hz * task.mean_cycles.*member * clocks;
      schedule.memory.code_bytes.*member += task.figures->cost.code_bytes.*member;
    }
    schedule.memory.constant_bytes += task.figures->cost.constant_bytes;
    schedule.memory.ram_bytes += task.figures->cost.ram_bytes;
    schedule.memory.stack_bytes += task.figures->cost.stack_bytes;
    if (task.figures->event == "step") {
      schedule.wake_up_cycles = std::max(schedule.wake_up_cycles, task.worst_cycles.typical);
    }
  }
  const firmware::Core& core = *processor.core;
  schedule.wake_up_cycles +=
      core.interrupt_entry_cycles + core.interrupt_frame_cycles + core.interrupt_exit_cycles;
  schedule.wake_up_cycles *= clocks;
}

// The task that can take most of the processor's time.
const ScheduledTask& heaviest(const Schedule& schedule) {
  const auto load = [](const ScheduledTask& task) {
    return task.contained_in.empty() ? task.worst_cycles.typical / (task.rule.period_s * task.batch) : 0.0;
  };
  return *std::max_element(schedule.tasks.begin(), schedule.tasks.end(),
                           [&](const auto& a, const auto& b) { return load(a) < load(b); });
}

}  // namespace

Schedule make_schedule(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                       const Processor& processor) {
  Schedule schedule;
  for (const study::FunctionBlock* block : blocks) {
    if (auto task = choose_task(context, *block, processor)) schedule.tasks.push_back(std::move(*task));
  }
  mark_contained(schedule.tasks, blocks);
  schedule.required_hz = {lowest_any_clock(schedule.tasks, processor, 0),
                          lowest_any_clock(schedule.tasks, processor, 1),
                          lowest_any_clock(schedule.tasks, processor, 2)};
  schedule.clock_hz = lowest_allowed(schedule.tasks, processor, 2);
  if (!schedule.clock_hz) schedule.clock_hz = lowest_allowed(schedule.tasks, processor, 1);
  add_up(schedule, processor);
  if (!schedule.tasks.empty()) {
    name_limit(schedule, processor);
    const double shown_at = schedule.clock_hz.value_or(processor.clocks_hz.back());
    schedule.responses = analyse_both_ways(schedule.tasks, processor, 1, shown_at).responses;
  }
  return schedule;
}

std::string describe_limit(const Schedule& schedule) {
  const auto task = std::find_if(schedule.tasks.begin(), schedule.tasks.end(),
                                 [&](const auto& other) { return other.block == schedule.limiting_task; });
  if (task == schedule.tasks.end()) return "no deadline limits the clock";
  using figures::format_quantity;
  namespace dimensions = figures::dimensions;
  std::string text =
      fmt::format("{} ({}, method {}): {:.0f} cycles for each {}, to be done within {}", task->block,
                  task->figures->event, task->figures->method, task->worst_cycles.typical,
                  task->batch > 1 ? fmt::format("{:.0f} events", task->batch) : "event",
                  format_quantity(task->batch > 1 ? task->rule.period_s * task->batch : task->rule.deadline_s,
                                  dimensions::time));
  const ScheduledTask& busiest = heaviest(schedule);
  if (busiest.block != task->block) {
    text += fmt::format(", beside {} with {:.0f} cycles for each of {:.0f} thousand {}s a second",
                        busiest.block, busiest.worst_cycles.typical / busiest.batch,
                        1e-3 / busiest.rule.period_s, busiest.figures->event);
  }
  return fmt::format("{}, needs {}", text,
                     format_quantity(schedule.required_hz.typical, dimensions::frequency));
}

}  // namespace portweigh::options

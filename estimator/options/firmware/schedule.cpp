#include "options/firmware/schedule.hpp"

#include <algorithm>
#include <cmath>

#include "options/firmware/schedule_tasks.hpp"

namespace portweigh::options {
namespace {

// Longest piece of code with interrupts masked: taking a byte from a queue. Common practice.
constexpr double masked_cycles = 12;
constexpr double highest_clock_hz = 1e11;

// The soft processor's core class, as elaborated by the block "soft-processor" in its sequential style.
constexpr std::string_view soft_core = "32-bit-sequential";

// What the half-duplex line does; the time of answering begins with the last bit of a message.
enum class Mode { receive, answer, transmit };
constexpr Mode all_modes[] = {Mode::receive, Mode::answer, Mode::transmit};

bool works_in(const ScheduledTask& task, Mode mode, bool polls) {
  const EventRule& rule = task.rule;
  if (mode == Mode::answer) return true;
  if (mode == Mode::receive && polls) return task.figures->polls;
  if (rule.answers_message) return false;
  return rule.direction == Direction::both ||
         rule.direction == (mode == Mode::receive ? Direction::receive : Direction::transmit);
}

firmware::CycleTask timed_task(const ScheduledTask& task, Mode mode, int level, double clocks_per_cycle) {
  const EventRule& rule = task.rule;
  firmware::CycleTask timed;
  timed.name = task.block;
  timed.cycles = cycles_at(task.worst_cycles, level) * clocks_per_cycle;
  timed.work = {task.consecutive_cycles[static_cast<std::size_t>(level)], clocks_per_cycle};
  timed.period_s = rule.period_s * task.batch;
  timed.jitter_s = task.batch > 1 ? 0 : rule.jitter_s;
  timed.deadline_s = task.batch > 1 ? rule.period_s * task.batch : rule.deadline_s + rule.jitter_s;
  timed.blocking_cycles = masked_cycles * clocks_per_cycle;
  // The last batch of edges, the last byte, the first bits of the answer: once for each message, one after
  // the other.
  if (mode == Mode::answer && rule.direction != Direction::both) {
    timed.period_s = std::max(timed.period_s, rule.message_period_s);
    timed.deadline_s = rule.turn_round_s;
    timed.jitter_s = 0;
    timed.work = {};
    if (task.events_after_message > 0) {
      timed.cycles =
          task.events_after_message * clocks_per_cycle * cycles_at(task.figures->worst_cycles, level);
    }
  }
  return timed;
}

// Every cycle of code in flash stretched by wait states.
std::vector<firmware::CycleTask> task_set(const std::vector<ScheduledTask>& tasks, const Processor& processor,
                                          Mode mode, int level, double stretch) {
  std::vector<firmware::CycleTask> set;
  const bool polls =
      std::any_of(tasks.begin(), tasks.end(), [](const auto& task) { return task.figures->polls; });
  for (const ScheduledTask& task : tasks) {
    if (!task.contained_in.empty() || !works_in(task, mode, polls)) continue;
    auto timed = timed_task(task, mode, level, processor.clocks_per_cycle);
    const double waits = task.is_in_ram ? 1 : stretch;
    timed.cycles *= waits;
    timed.work.unit *= waits;
    timed.blocking_cycles *= stretch;
    set.push_back(std::move(timed));
  }
  std::stable_sort(set.begin(), set.end(),
                   [](const auto& a, const auto& b) { return a.deadline_s < b.deadline_s; });
  return set;
}

// Of each task in the mode that leaves it the least slack.
std::vector<firmware::TaskResponse> analyse_all_modes(const std::vector<ScheduledTask>& tasks,
                                                      const Processor& processor, int level, double clock_hz,
                                                      double stretch) {
  std::vector<firmware::TaskResponse> responses;
  for (const Mode mode : all_modes) {
    for (auto& response : firmware::analyse(task_set(tasks, processor, mode, level, stretch), clock_hz)) {
      const auto same = std::find_if(responses.begin(), responses.end(),
                                     [&](const auto& other) { return other.name == response.name; });
      if (same == responses.end()) {
        responses.push_back(std::move(response));
      } else if (response.slack_s < same->slack_s) {
        *same = std::move(response);
      }
    }
  }
  return responses;
}

// Whether no response of analyse_all_modes is late, found quicker.
bool holds_in_all_modes(const std::vector<ScheduledTask>& tasks, const Processor& processor, int level,
                        double clock_hz, double stretch) {
  return std::all_of(std::begin(all_modes), std::end(all_modes), [&](Mode mode) {
    return firmware::meets_all_deadlines(task_set(tasks, processor, mode, level, stretch), clock_hz);
  });
}

double lowest_any_clock(const std::vector<ScheduledTask>& tasks, const Processor& processor, int level,
                        double stretch) {
  if (tasks.empty()) return 0;
  double low = 1e3;
  double high = highest_clock_hz;
  if (!holds_in_all_modes(tasks, processor, level, high, stretch)) return highest_clock_hz;
  while (high / low > 1.0005) {
    const double middle = std::sqrt(low * high);
    (holds_in_all_modes(tasks, processor, level, middle, stretch) ? high : low) = middle;
  }
  return high;
}

std::vector<double> feasible_clocks(const std::vector<ScheduledTask>& tasks, const Processor& processor,
                                    int level) {
  std::vector<double> feasible;
  for (const double clock_hz : processor.clocks_hz) {
    const double stretch = firmware::wait_state_stretch(*processor.core, clock_hz);
    if (holds_in_all_modes(tasks, processor, level, clock_hz, stretch)) feasible.push_back(clock_hz);
  }
  return feasible;
}

// With the high cycles; if no clock does, with the typical ones.
std::vector<double> clocks_that_hold(const std::vector<ScheduledTask>& tasks, const Processor& processor) {
  auto clocks = feasible_clocks(tasks, processor, 2);
  return clocks.empty() ? feasible_clocks(tasks, processor, 1) : clocks;
}

void name_limit(Schedule& schedule, const Processor& processor) {
  const auto below = analyse_all_modes(schedule.tasks, processor, 1, schedule.required_hz.typical * 0.995,
                                       schedule.wait_stretch);
  double worst = 0;
  for (const firmware::TaskResponse& response : below) {
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

void add_up_memory(Schedule& schedule) {
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const firmware::RoutineCost& cost = task.figures->cost;
    schedule.memory.code_bytes.low += cost.code_bytes.low;
    schedule.memory.code_bytes.typical += cost.code_bytes.typical;
    schedule.memory.code_bytes.high += cost.code_bytes.high;
    schedule.memory.constant_bytes += cost.constant_bytes;
    schedule.memory.ram_bytes += cost.ram_bytes;
    schedule.memory.stack_bytes += cost.stack_bytes;
    if (task.is_in_ram) schedule.memory.ram_bytes += cost.code_bytes.high;
  }
}

double share_of(const ScheduledTask& task) {
  return task.rule.direction == Direction::both ? 1.0 : 0.5;
}

// Cycles a second, without wait states.
void add_up_load(Schedule& schedule, const Processor& processor) {
  WithoutWaits& load = schedule.without_waits;
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    for (const auto member :
         {&firmware::CostRange::low, &firmware::CostRange::typical, &firmware::CostRange::high}) {
      const double clocks = task.mean_cycles.*member * processor.clocks_per_cycle;
      load.busy_hz.*member += share_of(task) * task.rule.mean_rate_hz * clocks;
      load.attached_hz.*member += task.rule.attached_rate_hz * clocks;
    }
  }
}

double interrupt_cycles(const firmware::Core& core) {
  return core.interrupt_entry_cycles + core.interrupt_frame_cycles + core.interrupt_exit_cycles;
}

// All of them work at the same tick.
void add_up_ticks(Schedule& schedule, const Processor& processor) {
  double cycles = 0;
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty() || task.figures->event != blocks::Event::tick) continue;
    schedule.tick_hz = std::max(schedule.tick_hz, task.rule.attached_rate_hz);
    cycles += task.mean_cycles.typical;
  }
  if (schedule.tick_hz > 0) schedule.tick_cycles = cycles + interrupt_cycles(*processor.core);
  schedule.tick_cycles *= processor.clocks_per_cycle;
}

double cycles_of_wake_up(const Schedule& schedule, const firmware::Core& core) {
  double step_cycles = 0;
  for (const ScheduledTask& task : schedule.tasks) {
    const bool is_step = task.contained_in.empty() && task.figures->event == blocks::Event::step;
    if (is_step) step_cycles = std::max(step_cycles, task.worst_cycles.typical);
  }
  return step_cycles + interrupt_cycles(core);
}

bool runs_in_ram(const Schedule& schedule) {
  return std::any_of(schedule.tasks.begin(), schedule.tasks.end(),
                     [](const auto& task) { return task.is_in_ram; });
}

// By how much waits of code in flash stretch the mean load: all of it, or what is not in RAM.
double stretch_of_load(const Schedule& schedule, double waits) {
  double in_ram = 0;
  double all = 0;
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const double load = share_of(task) * task.rule.mean_rate_hz * task.mean_cycles.typical;
    all += load;
    if (task.is_in_ram) in_ram += load;
  }
  return all > 0 ? waits - (waits - 1) * in_ram / all : waits;
}

// Wait states of the clock that was chosen, or else of the highest.
void stretch_by_waits(Schedule& schedule, const Processor& processor) {
  const double waits =
      firmware::wait_state_stretch(*processor.core, schedule.clock_hz.value_or(processor.clocks_hz.back()));
  schedule.wait_stretch = waits;
  schedule.load_stretch = stretch_of_load(schedule, waits);
  const double need_hz = schedule.without_waits.required_hz.typical;
  // With all code in flash the need grows as the cycles do.
  schedule.need_stretch = waits > 1 && need_hz > 0 && runs_in_ram(schedule)
                              ? lowest_any_clock(schedule.tasks, processor, 1, waits) / need_hz
                              : waits;
  schedule.required_hz = scaled(schedule.without_waits.required_hz, schedule.need_stretch, 0);
  schedule.busy_hz = scaled(schedule.without_waits.busy_hz, schedule.load_stretch, 0);
  schedule.attached_hz = scaled(schedule.without_waits.attached_hz, waits, 0);
  schedule.wake_up_cycles = processor.clocks_per_cycle * waits * cycles_of_wake_up(schedule, *processor.core);
}

// By interrupts, or by polling where that needs the slower clock with the high cycles.
std::vector<ScheduledTask> best_tasks(const Context& context,
                                      std::span<const study::FunctionBlock* const> blocks,
                                      const Processor& processor) {
  auto tasks = list_tasks(context, blocks, processor, false);
  if (!can_poll(context, blocks, processor)) return tasks;
  auto polling = list_tasks(context, blocks, processor, true);
  const double need_hz = lowest_any_clock(tasks, processor, 2, 1);
  return lowest_any_clock(polling, processor, 2, 1) < need_hz ? polling : tasks;
}

// Start-up code, vectors and main loop, bytes; common practice for small cores.
constexpr double start_up_code_bytes = 400;

}  // namespace

Processor processor_of(const Context& context, const parts::Microcontroller& part) {
  Processor processor;
  processor.core = &context.catalog.cores.at(part.core);
  for (const auto& clock : part.clocks) processor.clocks_hz.push_back(clock.value_si);
  processor.clocks_per_cycle = part.clocks_per_cycle;
  processor.peripherals = part.peripherals;
  processor.ram_bytes = part.ram_bytes * (1 - context.study.capacity_reserve.range.typical);
  return processor;
}

Processor host_processor_of(const Context& context) {
  const study::Host& host = *context.study.host;
  Processor processor;
  processor.core = &context.catalog.cores.at(host.core);
  processor.clocks_hz = {host.clock.value_si};
  // Common practice.
  processor.peripherals = {{"i2c-controller", 1}, {"spi-controller", 1}, {"uart", 1}, {"compare-output", 1}};
  return processor;
}

const firmware::Core* soft_core_of(const Context& context) {
  return &context.catalog.cores.at(std::string(soft_core));
}

Processor soft_processor_of(const Context& context, const parts::ProgrammableLogic& part) {
  Processor processor;
  processor.core = soft_core_of(context);
  const std::vector<double>& dividers = part.oscillator_dividers;
  for (auto divider = dividers.rbegin(); divider != dividers.rend(); ++divider) {
    processor.clocks_hz.push_back(part.oscillator_frequency->range.typical / *divider);
  }
  return processor;
}

Schedule schedule_without_search(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                                 const Processor& processor) {
  Schedule schedule;
  schedule.tasks = best_tasks(context, blocks, processor);
  schedule.runs_while_quiet = std::any_of(blocks.begin(), blocks.end(),
                                          [](const auto* block) { return block->kind->runs_while_quiet; });
  schedule.feasible_clocks_hz = clocks_that_hold(schedule.tasks, processor);
  if (!schedule.feasible_clocks_hz.empty()) schedule.clock_hz = schedule.feasible_clocks_hz.front();
  add_up_memory(schedule);
  add_up_load(schedule, processor);
  add_up_ticks(schedule, processor);
  stretch_by_waits(schedule, processor);
  return schedule;
}

Schedule make_schedule(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                       const Processor& processor) {
  Schedule schedule = schedule_without_search(context, blocks, processor);
  schedule.without_waits.required_hz = {lowest_any_clock(schedule.tasks, processor, 0, 1),
                                        lowest_any_clock(schedule.tasks, processor, 1, 1),
                                        lowest_any_clock(schedule.tasks, processor, 2, 1)};
  stretch_by_waits(schedule, processor);
  if (!schedule.tasks.empty()) name_limit(schedule, processor);
  const double shown_at_hz = schedule.clock_hz.value_or(processor.clocks_hz.back());
  schedule.responses = analyse_all_modes(schedule.tasks, processor, 1, shown_at_hz, schedule.wait_stretch);
  return schedule;
}

void set_clock(Schedule& schedule, const Processor& processor, double clock_hz) {
  schedule.clock_hz = clock_hz;
  stretch_by_waits(schedule, processor);
}

MemoryNeed memory_need(const Schedule& schedule) {
  const Memory& memory = schedule.memory;
  const double fixed = memory.constant_bytes + start_up_code_bytes;
  return {{memory.code_bytes.low + fixed, memory.code_bytes.typical + fixed, memory.code_bytes.high + fixed},
          memory.ram_bytes + memory.stack_bytes + main_loop_ram_bytes};
}

}  // namespace portweigh::options

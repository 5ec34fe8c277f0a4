#include "options/firmware/schedule.hpp"

#include <algorithm>
#include <cmath>

namespace portweigh::options {
namespace {

// Longest piece of code with interrupts masked: taking a byte from a queue. Common practice.
constexpr double masked_cycles = 12;
constexpr double highest_clock_hz = 1e11;

// The soft processor's core class, as elaborated by the block "soft-processor" in its sequential style.
constexpr std::string_view soft_core = "32-bit-sequential";
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

ScheduledTask make_task(const study::FunctionBlock& block, const FirmwareFigures& figures,
                        const Processor& processor, const study::PortFunction& function) {
  ScheduledTask task;
  task.block = block.name;
  task.figures = &figures;
  task.rule = rule_for(function, block, figures.event);
  task.batch = task.rule.is_interrupt ? figures.batch : 1;
  const firmware::Core& core = *processor.core;
  const double overhead = task.rule.is_interrupt ? core.interrupt_entry_cycles + core.interrupt_frame_cycles +
                                                       core.interrupt_exit_cycles
                                                 : 0;
  // A whole message is worked off as it arrives or leaves, and a queue evens out what its parts take: the
  // share of the time of one byte.
  task.is_spread = static_cast<bool>(block.kind->message_bits);
  const double share =
      task.is_spread ? symbols_of(function).wire_bits_per_byte / block.kind->message_bits(block.settings) : 1;
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
    ScheduledTask task = make_task(block, figures, processor, context.study.function);
    if (!best || mean_rate(task) * task.mean_cycles.typical < mean_rate(*best) * best->mean_cycles.typical) {
      best = std::move(task);
    }
  }
  return best;
}

// What the half-duplex line does; the time of answering begins with the last bit of a message.
enum class Mode { receive, answer, transmit };
constexpr Mode all_modes[] = {Mode::receive, Mode::answer, Mode::transmit};

std::optional<ScheduledTask> link_task(const Context& context, const Processor& processor) {
  const LinkTask& link = *processor.link;
  auto task = choose_task(context, link.controller, processor);
  if (!task) return std::nullopt;
  // The controller sets the pace: it need only keep up with the messages.
  task->rule.period_s =
      std::max(link.byte_s, task->rule.message_period_s / std::max(1.0, link.bytes_per_message));
  task->rule.deadline_s = task->rule.period_s;
  task->rule.mean_rate_hz *= link.bytes_per_message;
  return task;
}

// An answer that has to come back through the link must be ready earlier.
void take_off_link(ScheduledTask& task, const study::FunctionBlock& block, const LinkTask& link) {
  const bool is_answer =
      task.figures->event == blocks::Event::step || task.figures->event == blocks::Event::message;
  if (is_answer && block.layer != study::Layer::physical) task.rule.deadline_s -= link.answer_s;
}

bool works_in(const EventRule& rule, Mode mode) {
  if (mode == Mode::answer) return true;
  if (rule.answers_message) return false;
  return rule.direction == Direction::both ||
         rule.direction == (mode == Mode::receive ? Direction::receive : Direction::transmit);
}

void mark_contained(std::vector<ScheduledTask>& tasks, std::span<const study::FunctionBlock* const> blocks) {
  const auto block_of = [&](const ScheduledTask& task) {
    return *std::find_if(blocks.begin(), blocks.end(),
                         [&](const auto* block) { return block->name == task.block; });
  };
  for (ScheduledTask& inner : tasks) {
    const blocks::Kind& kind = *block_of(inner)->kind;
    for (const ScheduledTask& outer : tasks) {
      const bool same_way =
          inner.rule.direction == Direction::both || inner.rule.direction == outer.rule.direction;
      if (block_of(outer)->kind->contains(kind) && same_way) inner.contained_in = outer.block;
    }
  }
}

double cycles_at(const firmware::CostRange& range, int level) {
  return level == 0 ? range.low : level == 1 ? range.typical : range.high;
}

firmware::CycleTask timed_task(const ScheduledTask& task, Mode mode, int level, double clocks_per_cycle) {
  const EventRule& rule = task.rule;
  firmware::CycleTask timed;
  timed.name = task.block;
  timed.cycles = cycles_at(task.worst_cycles, level) * clocks_per_cycle;
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
  }
  return timed;
}

std::vector<firmware::CycleTask> task_set(const std::vector<ScheduledTask>& tasks, Mode mode, int level,
                                          double clocks_per_cycle) {
  std::vector<firmware::CycleTask> set;
  for (const ScheduledTask& task : tasks) {
    if (!task.contained_in.empty() || !works_in(task.rule, mode)) continue;
    set.push_back(timed_task(task, mode, level, clocks_per_cycle));
  }
  std::stable_sort(set.begin(), set.end(),
                   [](const auto& a, const auto& b) { return a.deadline_s < b.deadline_s; });
  return set;
}

// The same with every cycle stretched by wait states.
std::vector<firmware::CycleTask> stretched_task_set(const std::vector<ScheduledTask>& tasks,
                                                    const Processor& processor, Mode mode, int level,
                                                    double stretch) {
  auto set = task_set(tasks, mode, level, processor.clocks_per_cycle);
  for (auto& task : set) {
    task.cycles *= stretch;
    task.blocking_cycles *= stretch;
  }
  return set;
}

// Of each task in the mode that leaves it the least slack.
std::vector<firmware::TaskResponse> analyse_all_modes(const std::vector<ScheduledTask>& tasks,
                                                      const Processor& processor, int level, double clock_hz,
                                                      double stretch) {
  std::vector<firmware::TaskResponse> responses;
  for (const Mode mode : all_modes) {
    for (auto& response :
         firmware::analyse(stretched_task_set(tasks, processor, mode, level, stretch), clock_hz)) {
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
    return firmware::meets_all_deadlines(stretched_task_set(tasks, processor, mode, level, stretch),
                                         clock_hz);
  });
}

// Of memory that never waits. With wait states all cycles grow by the same factor, and the clock needed with
// them.
double lowest_any_clock(const std::vector<ScheduledTask>& tasks, const Processor& processor, int level) {
  if (tasks.empty()) return 0;
  double low = 1e3;
  double high = highest_clock_hz;
  if (!holds_in_all_modes(tasks, processor, level, high, 1)) return highest_clock_hz;
  while (high / low > 1.0005) {
    const double middle = std::sqrt(low * high);
    (holds_in_all_modes(tasks, processor, level, middle, 1) ? high : low) = middle;
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
  }
}

// Cycles a second and the longest step, without wait states.
void add_up_load(Schedule& schedule, const Processor& processor) {
  WithoutWaits& load = schedule.without_waits;
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const double share = task.rule.direction == Direction::both ? 1.0 : 0.5;
    for (const auto member :
         {&firmware::CostRange::low, &firmware::CostRange::typical, &firmware::CostRange::high}) {
      const double clocks = task.mean_cycles.*member * processor.clocks_per_cycle;
      load.busy_hz.*member += share * task.rule.mean_rate_hz * clocks;
      load.attached_hz.*member += task.rule.attached_rate_hz * clocks;
    }
  }
}

double cycles_of_wake_up(const Schedule& schedule, const firmware::Core& core) {
  double step_cycles = 0;
  for (const ScheduledTask& task : schedule.tasks) {
    const bool is_step = task.contained_in.empty() && task.figures->event == blocks::Event::step;
    if (is_step) step_cycles = std::max(step_cycles, task.worst_cycles.typical);
  }
  return step_cycles + core.interrupt_entry_cycles + core.interrupt_frame_cycles + core.interrupt_exit_cycles;
}

// Wait states of the clock that was chosen, or else of the highest.
void stretch_by_waits(Schedule& schedule, const Processor& processor) {
  const double waits =
      firmware::wait_state_stretch(*processor.core, schedule.clock_hz.value_or(processor.clocks_hz.back()));
  schedule.wait_stretch = waits;
  schedule.required_hz = scaled(schedule.without_waits.required_hz, waits, 0);
  schedule.busy_hz = scaled(schedule.without_waits.busy_hz, waits, 0);
  schedule.attached_hz = scaled(schedule.without_waits.attached_hz, waits, 0);
  schedule.wake_up_cycles = processor.clocks_per_cycle * waits * cycles_of_wake_up(schedule, *processor.core);
}

std::vector<ScheduledTask> list_tasks(const Context& context,
                                      std::span<const study::FunctionBlock* const> blocks,
                                      const Processor& processor) {
  std::vector<ScheduledTask> tasks;
  for (const study::FunctionBlock* block : blocks) {
    auto task = choose_task(context, *block, processor);
    if (!task) continue;
    if (processor.link) take_off_link(*task, *block, *processor.link);
    tasks.push_back(std::move(*task));
  }
  mark_contained(tasks, blocks);
  if (processor.link) {
    if (auto task = link_task(context, processor)) tasks.push_back(std::move(*task));
  }
  return tasks;
}

// Cell reserve of a stack and the main loop's own variables beside the counted ones, bytes; common practice.
constexpr double main_loop_ram_bytes = 48;
// Start-up code, vectors and main loop, bytes; common practice for small cores.
constexpr double start_up_code_bytes = 400;

}  // namespace

Processor processor_of(const Context& context, const parts::Microcontroller& part) {
  Processor processor;
  processor.core = &context.catalog.cores.at(part.core);
  for (const auto& clock : part.clocks) processor.clocks_hz.push_back(clock.value_si);
  processor.clocks_per_cycle = part.clocks_per_cycle;
  processor.peripherals = part.peripherals;
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
  schedule.tasks = list_tasks(context, blocks, processor);
  schedule.feasible_clocks_hz = clocks_that_hold(schedule.tasks, processor);
  if (!schedule.feasible_clocks_hz.empty()) schedule.clock_hz = schedule.feasible_clocks_hz.front();
  add_up_memory(schedule);
  add_up_load(schedule, processor);
  stretch_by_waits(schedule, processor);
  return schedule;
}

Schedule make_schedule(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                       const Processor& processor) {
  Schedule schedule = schedule_without_search(context, blocks, processor);
  schedule.without_waits.required_hz = {lowest_any_clock(schedule.tasks, processor, 0),
                                        lowest_any_clock(schedule.tasks, processor, 1),
                                        lowest_any_clock(schedule.tasks, processor, 2)};
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

#include "options/firmware/schedule_tasks.hpp"

#include <algorithm>

namespace portweigh::options {
namespace {

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

// Which event follows which is known of what a stream of edges, bits or bytes sets off, on the line or a host bus; not of
// messages and timers.
bool follows_stream(blocks::Event event) {
  using blocks::Event;
  return event == Event::edge || event == Event::half_cell || event == Event::bit || event == Event::byte;
}

ScheduledTask make_task(const study::FunctionBlock& block, const FirmwareFigures& figures,
                        const Processor& processor, const study::PortFunction& function) {
  ScheduledTask task;
  task.block = block.name;
  task.figures = &figures;
  task.rule = rule_for(function, block, figures.event);
  if (figures.polls) task.rule.is_interrupt = false;
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
  if (!follows_stream(figures.event)) return task;
  double overheads = 0;
  for (const firmware::CostRange& cycles : figures.consecutive_cycles) {
    overheads += overhead;
    for (int level = 0; level < 3; ++level) {
      task.consecutive_cycles[static_cast<std::size_t>(level)].push_back(
          cycles_at(cycles, level) * task.batch + overheads);
    }
  }
  return task;
}

double cycles_a_second(const ScheduledTask& task) {
  return (task.rule.mean_rate_hz + task.rule.attached_rate_hz) * task.mean_cycles.typical;
}

// The method with the fewest cycles a second among those the part's peripherals allow. One that polls is taken
// if it is the only one allowed, or where polling is wanted.
std::optional<ScheduledTask> choose_task(const Context& context, const study::FunctionBlock& block,
                                         const Processor& processor, bool polling) {
  std::optional<ScheduledTask> best;
  const auto& methods = context.library.firmware({block.kind, block.settings}, processor.core->name);
  for (const FirmwareFigures& figures : methods) {
    if (!is_allowed(block, figures.method)) continue;
    if (!is_available(figures, processor.peripherals)) continue;
    ScheduledTask task = make_task(block, figures, processor, context.study.function);
    const bool is_better =
        !best || (figures.polls == best->figures->polls ? cycles_a_second(task) < cycles_a_second(*best)
                                                        : figures.polls == polling);
    if (is_better) best = std::move(task);
  }
  return best;
}

std::optional<ScheduledTask> link_task(const Context& context, const Processor& processor) {
  const LinkTask& link = *processor.link;
  auto task = choose_task(context, link.controller, processor, false);
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

// What can't wait has no time left: no clock is enough.
constexpr double no_time_s = 1e-12;

// While a message is received by polling, interrupts are masked and nothing else runs: what works on the message
// does all of it between its end and the answer, and everything else may have to wait for the longest message.
void wait_for_message(std::vector<ScheduledTask>& tasks, const study::Timing& timing) {
  const double message_bits = timing.message_bits.range.high;
  for (ScheduledTask& task : tasks) {
    if (task.figures->polls) continue;
    if (task.rule.direction == Direction::receive) {
      task.events_after_message = task.is_spread ? 1 : std::max(1.0, task.rule.per_bit * message_bits);
    } else if (task.rule.direction == Direction::both && !task.rule.answers_message) {
      const double left_s = task.rule.deadline_s - message_bits / timing.bit_rate.range.low;
      task.rule.deadline_s = std::max(left_s, no_time_s);
    }
  }
}

// Handlers of what a stream sets off, where instructions can be fetched from RAM, flash would make some clock wait
// and there is room: code that engineers copy first, common practice.
void move_to_ram(std::vector<ScheduledTask>& tasks, const Processor& processor) {
  const firmware::Core& core = *processor.core;
  if (!core.runs_from_ram || firmware::wait_state_stretch(core, processor.clocks_hz.back()) == 1) return;
  double left = processor.ram_bytes - main_loop_ram_bytes;
  for (const ScheduledTask& task : tasks) {
    if (task.contained_in.empty()) left -= task.figures->cost.ram_bytes + task.figures->cost.stack_bytes;
  }
  for (ScheduledTask& task : tasks) {
    const double code_bytes = task.figures->cost.code_bytes.high;
    if (!task.contained_in.empty() || !follows_stream(task.figures->event) || code_bytes > left) continue;
    task.is_in_ram = true;
    left -= code_bytes;
  }
}

}  // namespace

std::vector<ScheduledTask> list_tasks(const Context& context,
                                      std::span<const study::FunctionBlock* const> blocks,
                                      const Processor& processor, bool polling) {
  std::vector<ScheduledTask> tasks;
  for (const study::FunctionBlock* block : blocks) {
    auto task = choose_task(context, *block, processor, polling);
    if (!task) continue;
    if (processor.link) take_off_link(*task, *block, *processor.link);
    tasks.push_back(std::move(*task));
  }
  mark_contained(tasks, blocks);
  if (processor.link) {
    if (auto task = link_task(context, processor)) tasks.push_back(std::move(*task));
  }
  const bool polls =
      std::any_of(tasks.begin(), tasks.end(), [](const auto& task) { return task.figures->polls; });
  if (polls) wait_for_message(tasks, context.study.function.timing);
  move_to_ram(tasks, processor);
  return tasks;
}

bool can_poll(const Context& context, std::span<const study::FunctionBlock* const> blocks,
              const Processor& processor) {
  if (context.study.while_line_busy != study::WhileLineBusy::awake) return false;
  return std::any_of(blocks.begin(), blocks.end(), [&](const study::FunctionBlock* block) {
    const auto& methods = context.library.firmware({block->kind, block->settings}, processor.core->name);
    return std::any_of(methods.begin(), methods.end(),
                       [](const FirmwareFigures& figures) { return figures.polls; });
  });
}

}  // namespace portweigh::options

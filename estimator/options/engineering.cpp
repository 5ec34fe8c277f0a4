// Engineering effort of an option by revision group: what it takes to make its blocks, once.
//
//   firmware  a (lines / 1000)^b person-months for all firmware of the option, shared by code bytes
//   logic     LUTs x hours a LUT;   fixed function: configuration;   integration: once, and for each further
//   engine
// Source of the firmware model: B. W. Boehm, Software Engineering Economics, 1981, basic COCOMO.
#include <fmt/format.h>

#include "options/draft.hpp"
#include "options/fabric_blocks.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

Figure rate(Draft& draft, std::string_view field, std::string_view label,
            const reading::SourcedRange& range) {
  return draft.input(fmt::format("effort.{}", field), label, range, "effort");
}

void add_effort(Draft& draft, const std::string& group, Figure hours) {
  const auto [entry, is_new] = draft.effort_by_group.try_emplace(group, hours);
  if (!is_new) entry->second = entry->second + hours;
}

const study::FunctionBlock* block_named(const Draft& draft, const std::string& name) {
  for (const study::FunctionBlock& block : draft.context.study.function.blocks) {
    if (block.name == name) return &block;
  }
  return nullptr;
}

void add_firmware(Draft& draft, std::string_view engine, const Schedule& schedule) {
  const parts::Effort& effort = draft.context.effort;
  const Memory& memory = schedule.memory;
  if (schedule.tasks.empty() || memory.code_bytes.typical <= 0) return;
  const Figure bytes =
      draft.counted(fmt::format("counts.{}_code_bytes", engine), "bytes of hand-written code",
                    {memory.code_bytes.low, memory.code_bytes.typical, memory.code_bytes.high},
                    "routines translated for the core class");
  const Figure lines =
      bytes / rate(draft, "bytes_per_line", "code bytes of a source line", effort.bytes_per_line);
  const Figure months =
      rate(draft, "cocomo_a", "person-months for a thousand lines", effort.cocomo_a) *
      power(lines / 1000.0, rate(draft, "cocomo_b", "exponent of the size", effort.cocomo_b));
  const Figure time =
      draft.name(months * rate(draft, "person_month", "working time of a person-month", effort.person_month),
                 fmt::format("effort_{}", engine), fmt::format("effort, {} firmware", engine), "h");
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const double share = task.figures->cost.code_bytes.typical / memory.code_bytes.typical;
    add_effort(draft, block_named(draft, task.block)->revision_group, time * share);
  }
}

void add_logic(Draft& draft) {
  const Figure per_lut = rate(draft, "logic_time_per_lut", "design and verification of a LUT",
                              draft.context.effort.logic_time_per_lut);
  for (const FabricBlock& block : fabric_blocks(draft)) {
    if (block.figures->count.luts == 0) continue;
    // A soft processor is taken from a library, not designed: its effort is that of the further engine.
    if (block.runs_on_processor_clock) continue;
    const Figure luts = draft.counted(fmt::format("counts.{}.luts", block.name), block.name + ": LUTs",
                                      exactly(block.figures->count.luts), "covering run");
    const study::FunctionBlock* of = block_named(draft, block.name);
    add_effort(draft, of != nullptr ? of->revision_group : "host", luts * per_lut);
  }
}

}  // namespace

void add_engineering(Draft& draft) {
  const parts::Effort& effort = draft.context.effort;
  if (draft.candidate.logic != nullptr) add_logic(draft);
  if (draft.core_schedule) add_firmware(draft, "microcontroller", *draft.core_schedule);
  if (draft.soft_schedule) add_firmware(draft, "soft_processor", *draft.soft_schedule);
  if (draft.host_schedule) add_firmware(draft, "host", *draft.host_schedule);
  if (draft.candidate.fixed != nullptr) {
    add_effort(draft, "",
               rate(draft, "fixed_function_time", "configuration of a fixed-function part",
                    effort.fixed_function_time));
  }
  int engines = 0;
  for (const EngineKind engine : {EngineKind::fabric, EngineKind::soft_processor, EngineKind::microcontroller,
                                  EngineKind::fixed_function, EngineKind::host}) {
    engines += draft.candidate.uses(engine) ? 1 : 0;
  }
  if (engines == 0) return;
  Figure time = rate(draft, "integration_time", "board bring-up and system test", effort.integration_time);
  if (engines > 1) {
    time = time + static_cast<double>(engines - 1) * rate(draft, "second_engine_time",
                                                          "making a further engine work with the first",
                                                          effort.second_engine_time);
  }
  add_effort(draft, "", time);
}

}  // namespace portweigh::options

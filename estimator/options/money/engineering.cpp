#include "options/money/engineering.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "options/firmware/field_update.hpp"
#include "options/money/firmware_effort.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

bool contains(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

const study::FunctionBlock* block_named(const Draft& draft, const std::string& name) {
  for (const study::FunctionBlock& block : draft.context.study.function.blocks) {
    if (block.name == name) return &block;
  }
  return nullptr;
}

Figure firmware_time(Draft& draft, Figure bytes) {
  const parts::Effort& effort = draft.context.effort;
  const Figure lines = bytes / draft.input(effort.bytes_per_line);
  std::vector<Figure> drivers;
  for (const auto& [name, value] : effort.cost_drivers) {
    drivers.push_back(draft.input(value));
  }
  drivers.push_back(draft.input(effort.firmware_accuracy));
  const Figure months =
      cocomo_person_months(lines / 1000.0, parts::cocomo_coefficients(effort.model, effort.mode), drivers);
  return months * draft.input(draft.context.effort.person_month);
}

// The items so far, and the totals by kind that add up to all.
struct Sum {
  std::vector<EffortItem> items;
  std::vector<Figure> shares;
};

const char* key_of(EngineKind engine) {
  return engine == EngineKind::host              ? "host"
         : engine == EngineKind::microcontroller ? "microcontroller"
                                                 : "soft_processor";
}

void add_firmware(Draft& draft, const Firmware& firmware, Sum& sum) {
  const Schedule& schedule = firmware.schedule;
  const Memory& memory = schedule.memory;
  if (schedule.tasks.empty() || memory.code_bytes.typical <= 0) return;
  const char* engine = key_of(firmware.engine);
  const Figure bytes =
      draft.executed(fmt::format("counts.{}_code_bytes", engine), "bytes of hand-written code",
                     memory.code_bytes, firmware.core, "routines translated for the core class", "1");
  const auto& reused = draft.context.study.reuse.firmware_blocks;
  const auto share_of = [&](const ScheduledTask& task) {
    return task.figures->cost.code_bytes.typical / memory.code_bytes.typical;
  };
  double reused_share = 0;
  for (const ScheduledTask& task : schedule.tasks) {
    if (task.contained_in.empty() && contains(reused, task.block)) reused_share += share_of(task);
  }
  const Figure anew = firmware_time(draft, bytes);
  const Figure left = reused_share > 0
                          ? 1.0 - reused_share * (1.0 - draft.input(draft.context.effort.reuse_share))
                          : draft.ledger().constant(1);
  const Figure time =
      draft.name(reused_share > 0 ? firmware_time(draft, bytes * left) : anew,
                 fmt::format("effort_{}", engine), fmt::format("effort, {} firmware", engine), "h");
  sum.shares.push_back(time);
  for (const ScheduledTask& task : schedule.tasks) {
    if (!task.contained_in.empty()) continue;
    const double share = share_of(task);
    const Figure once = contains(reused, task.block)
                            ? time * (share * draft.input(draft.context.effort.reuse_share) / left)
                        : reused_share > 0 ? time * (share / left)
                                           : time * share;
    const study::FunctionBlock* of = block_named(draft, task.block);
    sum.items.push_back({task.block, of != nullptr ? of->revision_group : "host",
                         fmt::format("firmware/{}/{}", firmware.core, task.block), once, anew * share});
  }
}

void add_logic(Draft& draft, const std::vector<FabricBlock>& blocks, Sum& sum) {
  const parts::Effort& effort = draft.context.effort;
  const Figure design = draft.input(effort.logic_design_time_per_lut);
  const Figure verification = draft.input(effort.verification_share);
  const Figure per_lut = draft.name(design / (1.0 - verification), "logic_time_per_lut",
                                    "design and verification of a LUT", "h");
  Figure luts_to_make = draft.zero(dimensions::dimensionless);
  bool is_any = false;
  for (const FabricBlock& block : blocks) {
    if (block.figures->count.luts == 0) continue;
    // A soft processor is taken from a library, not designed: its effort is that of the further engine.
    if (block.runs_on_processor_clock) continue;
    const Figure luts = draft.counted(fmt::format("counts.{}.luts", block.name), block.name + ": LUTs",
                                      exactly(block.figures->count.luts), "covering run");
    const bool is_reused = contains(draft.context.study.reuse.logic_blocks, block.name);
    const Figure new_luts = is_reused ? luts * draft.input(draft.context.effort.reuse_share) : luts;
    luts_to_make = is_any ? luts_to_make + new_luts : new_luts;
    is_any = true;
    const study::FunctionBlock* of = block_named(draft, block.name);
    sum.items.push_back({block.name, of != nullptr ? of->revision_group : "host", "logic/" + block.name,
                         new_luts * per_lut, luts * per_lut});
  }
  const Figure named = draft.name(luts_to_make, "luts_to_make", "LUTs to design", "1");
  sum.shares.push_back(draft.name(named * per_lut, "effort_logic", "effort, logic", "h"));
}

// Effort that is no block's: configuration, approval of new parts, bringing it all up.
void add_whole(Draft& draft, std::string_view key, std::string_view label, const std::string& shared_key,
               Figure time, Sum& sum) {
  const Figure named = draft.name(time, fmt::format("effort_{}", key), label, "h");
  sum.items.push_back({std::string(label), "", shared_key, named, named});
  sum.shares.push_back(named);
}

// What the blocks don't hold: drivers, power management, the way of an update and its boot loader.
void add_around_the_blocks(Draft& draft, Sum& sum) {
  const parts::Effort& effort = draft.context.effort;
  for (const Chip& chip : draft.candidate.chips) {
    if (!chip.is_programmable()) continue;
    const std::string& id = chip.part().id;
    add_whole(draft, "power_management." + id, "power management of " + id, "power-management/" + id,
              draft.input(effort.power_management_time), sum);
    const auto* processor = std::get_if<const parts::Microcontroller*>(&chip.device);
    if (processor != nullptr) {
      add_whole(draft, "drivers." + id, "drivers of " + id, "drivers/" + id, draft.input(effort.driver_time),
                sum);
    }
    if (!is_updated_in_field(draft.context, draft.candidate, chip)) continue;
    Figure update = draft.input(effort.update_path_time);
    if (processor != nullptr) update = update + firmware_time(draft, draft.input(effort.boot_loader_bytes));
    add_whole(draft, "update_path." + id, "update path of " + id, "update-path/" + id, update, sum);
  }
  if (!draft.candidate.chips.empty()) {
    add_whole(draft, "production_test", "production test", "", draft.input(effort.production_test_time), sum);
  }
}

void add_approval(Draft& draft, Sum& sum) {
  for (const std::string& id : draft.candidate.part_ids()) {
    if (contains(draft.context.study.reuse.parts, id)) continue;
    const Figure time = draft.input(draft.context.effort.qualification_time);
    add_whole(draft, "approval." + id, "approval of " + id, "part/" + id, time, sum);
  }
}

void add_integration(Draft& draft, Sum& sum) {
  int engines = 0;
  for (const EngineKind engine : {EngineKind::fabric, EngineKind::soft_processor, EngineKind::microcontroller,
                                  EngineKind::fixed_function, EngineKind::host}) {
    engines += draft.candidate.uses(engine) ? 1 : 0;
  }
  if (engines == 0) return;
  const parts::Effort& effort = draft.context.effort;
  Figure time = draft.input(effort.integration_time);
  if (engines > 1) {
    time = time + static_cast<double>(engines - 1) * draft.input(effort.second_engine_time);
  }
  add_whole(draft, "integration", "integration and system test", "", time, sum);
}

Figure name_totals(Draft& draft, const std::vector<Figure>& shares) {
  const bool is_any = !shares.empty();
  const Figure total = draft.name(is_any ? figures::sum(shares) : draft.zero(dimensions::time), "effort",
                                  "engineering effort", "h");
  if (!is_any) {
    draft.name(draft.zero(dimensions::time), "development_time", "development time", "d");
    return total;
  }
  constexpr double month_s = 365.25 / 12 * 86400;
  const parts::Effort& effort = draft.context.effort;
  const Figure months =
      cocomo_months(draft.name(total / draft.input(effort.person_month), "person_months",
                               "engineering effort, person-months", "1"),
                    parts::cocomo_coefficients(effort.model, effort.mode), draft.input(effort.team_size));
  draft.name(months * draft.ledger().constant(month_s, dimensions::time, "a month"), "development_time",
             "development time", "d");
  return total;
}

}  // namespace

Engineering add_engineering(Draft& draft, const Placed& placed, const Cells& cells) {
  Sum sum;
  if (cells.clock_hz) add_logic(draft, cells.blocks, sum);
  for (const Firmware& firmware : placed.firmware) add_firmware(draft, firmware, sum);
  if (const parts::FixedFunction* fixed = draft.candidate.fixed()) {
    add_whole(draft, "configuration", "configuration of the fixed-function part",
              "configuration/" + fixed->part.family, draft.input(draft.context.effort.fixed_function_time),
              sum);
  }
  add_around_the_blocks(draft, sum);
  add_approval(draft, sum);
  add_integration(draft, sum);
  const Figure total = name_totals(draft, sum.shares);
  return {std::move(sum.items), total};
}

}  // namespace portweigh::options

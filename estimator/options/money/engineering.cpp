// Engineering effort of an option: what it takes to make its blocks, once.
//
//   logic     LUTs x design time a LUT / (1 - share of verification)
//   firmware  COCOMO for all firmware of an engine, shared among its blocks by code bytes
//   fixed function: configuration;  each new main part: approval;  integration: once, and for each further
//   engine
// A block that the company has already (reuse in the study) counts with the share of its effort that is left.
// Time: development_time follows from the whole effort and the team (firmware_effort.hpp).
// Tested by tests/options/money/engineering_test.cpp.
#include <fmt/core.h>

#include <algorithm>

#include "options/draft.hpp"
#include "options/fabric/fabric_blocks.hpp"
#include "options/money/firmware_effort.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

Figure rate(Draft& draft, std::string_view field, std::string_view label,
            const reading::SourcedRange& range) {
  return draft.input(fmt::format("effort.{}", field), label, range, "effort");
}

// Rates that say how well a company works, not how much there is to do.
Figure rate_of_its_own(Draft& draft, std::string_view field, std::string_view label,
                       const reading::SourcedRange& range) {
  return draft.input(fmt::format("effort.{}", field), label, range);
}

Figure reuse_share(Draft& draft) {
  return rate_of_its_own(draft, "reuse_share", "share of effort left for a block the company has",
                         draft.context.effort.reuse_share);
}

Figure person_month(Draft& draft) {
  return rate_of_its_own(draft, "person_month", "working time of a person-month",
                         draft.context.effort.person_month);
}

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
  const Figure lines =
      bytes / rate_of_its_own(draft, "bytes_per_line", "code bytes of a source line", effort.bytes_per_line);
  std::vector<Figure> drivers;
  for (const auto& [name, value] : effort.cost_drivers) {
    drivers.push_back(rate_of_its_own(draft, "cost_drivers." + name, "cost driver: " + name, value));
  }
  drivers.push_back(
      rate(draft, "firmware_accuracy", "actual effort of firmware by the model's", effort.firmware_accuracy));
  const Figure months =
      cocomo_person_months(lines / 1000.0, parts::cocomo_coefficients(effort.model, effort.mode), drivers);
  return months * person_month(draft);
}

struct FirmwareEngine {
  const char* name;  // "microcontroller"
  const Schedule* schedule;
  std::string core;
};

void add_firmware(Draft& draft, const FirmwareEngine& engine) {
  const Memory& memory = engine.schedule->memory;
  if (engine.schedule->tasks.empty() || memory.code_bytes.typical <= 0) return;
  const Figure bytes =
      draft.executed(fmt::format("counts.{}_code_bytes", engine.name), "bytes of hand-written code",
                     memory.code_bytes, engine.core, "routines translated for the core class", "1");
  const auto& reused = draft.context.study.reuse.firmware_blocks;
  const auto share_of = [&](const ScheduledTask& task) {
    return task.figures->cost.code_bytes.typical / memory.code_bytes.typical;
  };
  double reused_share = 0;
  for (const ScheduledTask& task : engine.schedule->tasks) {
    if (task.contained_in.empty() && contains(reused, task.block)) reused_share += share_of(task);
  }
  const Figure anew = firmware_time(draft, bytes);
  const Figure left =
      reused_share > 0 ? 1.0 - reused_share * (1.0 - reuse_share(draft)) : draft.ledger().constant(1);
  const Figure time =
      draft.name(reused_share > 0 ? firmware_time(draft, bytes * left) : anew,
                 fmt::format("effort_{}", engine.name), fmt::format("effort, {} firmware", engine.name), "h");
  for (const ScheduledTask& task : engine.schedule->tasks) {
    if (!task.contained_in.empty()) continue;
    const double share = share_of(task);
    const Figure once = contains(reused, task.block) ? time * (share * reuse_share(draft) / left)
                        : reused_share > 0           ? time * (share / left)
                                                     : time * share;
    const study::FunctionBlock* of = block_named(draft, task.block);
    draft.effort.push_back({task.block, of != nullptr ? of->revision_group : "host",
                            fmt::format("firmware/{}/{}", engine.core, task.block), once, anew * share});
  }
}

void add_logic(Draft& draft) {
  const parts::Effort& effort = draft.context.effort;
  const Figure design = rate(draft, "logic_design_time_per_lut", "design of a LUT of new logic",
                             effort.logic_design_time_per_lut);
  const Figure verification = rate_of_its_own(
      draft, "verification_share", "share of verification in effort for logic", effort.verification_share);
  const Figure per_lut = draft.name(design / (1.0 - verification), "logic_time_per_lut",
                                    "design and verification of a LUT", "h");
  Figure luts_to_make = draft.zero(dimensions::dimensionless);
  bool is_any = false;
  for (const FabricBlock& block : fabric_blocks(draft)) {
    if (block.figures->count.luts == 0) continue;
    // A soft processor is taken from a library, not designed: its effort is that of the further engine.
    if (block.runs_on_processor_clock) continue;
    const Figure luts = draft.counted(fmt::format("counts.{}.luts", block.name), block.name + ": LUTs",
                                      exactly(block.figures->count.luts), "covering run");
    const bool is_reused = contains(draft.context.study.reuse.logic_blocks, block.name);
    const Figure new_luts = is_reused ? luts * reuse_share(draft) : luts;
    luts_to_make = is_any ? luts_to_make + new_luts : new_luts;
    is_any = true;
    const study::FunctionBlock* of = block_named(draft, block.name);
    draft.effort.push_back({block.name, of != nullptr ? of->revision_group : "host", "logic/" + block.name,
                            new_luts * per_lut, luts * per_lut});
  }
  const Figure named = draft.name(luts_to_make, "luts_to_make", "LUTs to design", "1");
  draft.name(named * per_lut, "effort_logic", "effort, logic", "h");
}

// Effort that is no block's: configuration, approval of new parts, bringing it all up.
void add_whole(Draft& draft, std::string_view key, std::string_view label, const std::string& shared_key,
               Figure time) {
  const Figure named = draft.name(time, fmt::format("effort_{}", key), label, "h");
  draft.effort.push_back({std::string(label), "", shared_key, named, named});
}

void add_approval(Draft& draft) {
  for (const std::string& id : draft.candidate.part_ids()) {
    if (contains(draft.context.study.reuse.parts, id)) continue;
    const Figure time = rate(draft, "qualification_time", "approving a part new to the company",
                             draft.context.effort.qualification_time);
    add_whole(draft, "approval." + id, "approval of " + id, "part/" + id, time);
  }
}

void add_integration(Draft& draft) {
  int engines = 0;
  for (const EngineKind engine : {EngineKind::fabric, EngineKind::soft_processor, EngineKind::microcontroller,
                                  EngineKind::fixed_function, EngineKind::host}) {
    engines += draft.candidate.uses(engine) ? 1 : 0;
  }
  if (engines == 0) return;
  const parts::Effort& effort = draft.context.effort;
  Figure time = rate(draft, "integration_time", "board bring-up and system test", effort.integration_time);
  if (engines > 1) {
    time = time + static_cast<double>(engines - 1) * rate(draft, "second_engine_time",
                                                          "making a further engine work with the first",
                                                          effort.second_engine_time);
  }
  add_whole(draft, "integration", "integration and system test", "", time);
}

void name_totals(Draft& draft) {
  std::vector<Figure> shares;
  const char* keys[] = {"effort_logic", "effort_microcontroller", "effort_soft_processor", "effort_host",
                        "effort_configuration"};
  for (const char* key : keys) {
    if (const auto figure = draft.ledger().find(key)) shares.push_back(*figure);
  }
  for (const std::string& id : draft.candidate.part_ids()) {
    if (const auto figure = draft.ledger().find("effort_approval." + id)) shares.push_back(*figure);
  }
  if (const auto figure = draft.ledger().find("effort_integration")) shares.push_back(*figure);
  const bool is_any = !shares.empty();
  const Figure total =
      draft.name(is_any ? sum(shares) : draft.zero(dimensions::time), "effort", "engineering effort", "h");
  if (!is_any) {
    draft.name(draft.zero(dimensions::time), "development_time", "development time", "d");
    return;
  }
  constexpr double month_s = 365.25 / 12 * 86400;
  const parts::Effort& effort = draft.context.effort;
  const Figure months = cocomo_months(
      draft.name(total / person_month(draft), "person_months", "engineering effort, person-months", "1"),
      parts::cocomo_coefficients(effort.model, effort.mode),
      rate_of_its_own(draft, "team_size", "engineers who can work on it at once", effort.team_size));
  draft.name(months * draft.ledger().constant(month_s, dimensions::time, "a month"), "development_time",
             "development time", "d");
}

}  // namespace

void add_engineering(Draft& draft) {
  const Context& context = draft.context;
  const Candidate& candidate = draft.candidate;
  if (candidate.logic != nullptr) add_logic(draft);
  if (draft.core_schedule) {
    add_firmware(draft, {"microcontroller", &*draft.core_schedule, candidate.microcontroller->core});
  }
  if (draft.soft_schedule) add_firmware(draft, {"soft_processor", &*draft.soft_schedule, "soft"});
  if (draft.host_schedule) add_firmware(draft, {"host", &*draft.host_schedule, context.study.host->core});
  if (candidate.fixed != nullptr) {
    add_whole(draft, "configuration", "configuration of the fixed-function part",
              "configuration/" + candidate.fixed->part.family,
              rate(draft, "fixed_function_time", "configuration of a fixed-function part",
                   context.effort.fixed_function_time));
  }
  add_approval(draft);
  add_integration(draft);
  name_totals(draft);
}

}  // namespace portweigh::options

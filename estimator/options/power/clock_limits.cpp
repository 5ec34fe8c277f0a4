// Deadlines as limits: of each processor of an option the clock needed, of the clock given.
//
//   use = need(cycles, wait states of the given clock) / clock given        every deadline holds at <= 100 %
// The need has the range of the executed routines, so that the limit is kept in a share of the samples.
#include <fmt/core.h>

#include "options/power/power.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;

// How a processor's figures are called: `prefix` comes before "clock_use".
struct ClockNames {
  std::string prefix;
  std::string required;
  std::string whose;
};

ClockNames names_of(const Draft& draft, EngineKind engine) {
  if (engine == EngineKind::soft_processor) return {"soft_", "required_soft_clock", " of the soft processor"};
  if (engine == EngineKind::host) return {"host_", "required_host_clock", " of the host processor"};
  // Beside a fabric the option's clock is the fabric's.
  if (draft.candidate.logic() != nullptr) {
    return {"processor_", "required_processor_clock", " of the microcontroller"};
  }
  return {"", "required_clock", ""};
}

Figure clock_of(Draft& draft, EngineKind engine) {
  if (engine == EngineKind::host) {
    return draft.counted("host_clock", "clock of the host processor",
                         figures::exactly(draft.context.study.host->clock.value_si), "study", "MHz");
  }
  if (engine == EngineKind::soft_processor) return draft.ledger().at("soft_clock_rate");
  return draft.ledger().at(draft.candidate.logic() != nullptr ? "processor_clock" : "clock_rate");
}

}  // namespace

void add_clock_limits(Draft& draft, const Placed& placed) {
  for (const Firmware& firmware : placed.firmware) {
    const Schedule& schedule = firmware.schedule;
    const ClockNames names = names_of(draft, firmware.engine);
    // The range is that of memory that never waits, the same at every clock.
    const Figure without_waits = draft.executed(
        "counts." + names.required, "clock that meets every deadline" + names.whose + ", no wait states",
        schedule.without_waits.required_hz, firmware.core,
        fmt::format("response-time analysis; set by {}", describe_limit(schedule)), "MHz");
    const Figure required = draft.name(without_waits * schedule.need_stretch, names.required,
                                       "clock that meets every deadline" + names.whose, "MHz");
    const std::string use = names.prefix + "clock_use";
    draft.name(required / clock_of(draft, firmware.engine), use,
               "clock needed" + names.whose + ", of the clock given", "%");
    draft.option.implied_limits.push_back({use, 1.0, "clock that meets every deadline" + names.whose});
  }
}

}  // namespace portweigh::options

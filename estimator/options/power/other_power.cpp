// What the rest draws: a fixed-function controller, comparators inside or outside, the host's added load.
#include <fmt/core.h>

#include <algorithm>

#include "options/firmware/event_rules.hpp"
#include "options/power/power.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

Figure supply_voltage(Draft& draft) {
  return draft.input(draft.context.study.supply_voltage);
}

void add_fixed_function(Draft& draft, Drawn& drawn) {
  const parts::FixedFunction& part = *draft.candidate.fixed();
  const Figure supply = supply_voltage(draft);
  add_contribution(draft, drawn, {"controller", "controller", "busy", "quiet", EngineKind::fixed_function},
                   supply * draft.input(part.active_current), supply * draft.input(part.attached_current),
                   supply * draft.input(part.detached_current));
}

blocks::AnalogueNeeds comparators_needed(const Draft& draft) {
  blocks::AnalogueNeeds needed;
  for (const study::FunctionBlock& block : draft.context.study.function.blocks) {
    if (!block.kind->analogue) continue;
    const blocks::AnalogueNeeds of_block = block.kind->analogue(block.settings);
    needed.comparators += of_block.comparators;
    needed.watching += of_block.watching;
  }
  return needed;
}

// Comparators of a chip are at full speed while attached, since their edge announces a message. Detached, those that
// look for a cable are slow where the part can be: it only has to be seen within milliseconds. The others are off.
void add_comparators_inside(Draft& draft, Drawn& drawn) {
  const Candidate& candidate = draft.candidate;
  unsigned inside = 0;
  for (const Chip& chip : candidate.chips) inside += chip.comparators();
  const blocks::AnalogueNeeds needed = comparators_needed(draft);
  const unsigned used = std::min(inside, needed.comparators);
  if (used == 0 || candidate.fixed() != nullptr) return;
  const bool is_in_logic = candidate.logic() != nullptr && candidate.logic()->comparators > 0;
  const Figure each_a = draft.input(is_in_logic ? candidate.logic()->comparator_current
                                                : candidate.microcontroller()->comparator_current);
  const auto& standby = is_in_logic ? candidate.logic()->comparator_standby_current
                                    : candidate.microcontroller()->comparator_standby_current;
  const Figure all_w =
      supply_voltage(draft) * each_a *
      draft.counted("counts.comparators", "comparators in use", exactly(used), "port function");
  const Figure watching_w =
      supply_voltage(draft) * (standby ? draft.input(*standby) : each_a) *
      draft.counted("counts.comparators_watching", "comparators that look for a cable, detached",
                    exactly(std::min(used, needed.watching)), "port function");
  add_contribution(draft, drawn,
                   {"comparators", "comparators", "busy", "quiet",
                    is_in_logic ? EngineKind::fabric : EngineKind::microcontroller},
                   all_w, all_w, watching_w);
}

void add_external(Draft& draft, Drawn& drawn) {
  const Figure supply = supply_voltage(draft);
  for (const BillLine& line : draft.option.bill) {
    const auto& all = draft.context.catalog.external_parts;
    const auto part =
        std::find_if(all.begin(), all.end(), [&](const auto& other) { return other.id == line.id; });
    if (part == all.end()) continue;
    const auto power_w = [&](const parts::SourcedRange& current) {
      return supply * draft.input(current) *
             draft.counted(fmt::format("counts.{}.bodies", part->id), "bodies", exactly(line.count),
                           "parts list");
    };
    // With nothing attached a body is slow, or waits.
    const Figure standby_w = power_w(part->standby_current);
    // A configuration memory is read once, at power-up; configuration energy is the part's.
    const bool is_always_asleep = part->role == parts::ExternalRole::configuration_flash;
    const Figure active_w = is_always_asleep ? standby_w : power_w(part->active_current);
    add_contribution(draft, drawn, {part->id, part->summary}, active_w, active_w, standby_w);
  }
}

void add_host(Draft& draft, const Schedule& schedule, Drawn& drawn) {
  const study::Host& host = *draft.context.study.host;
  const Figure cycle = draft.input(host.energy_per_cycle);
  const Figure wake = draft.input(host.wake_up_energy);
  const Figure cycles = draft.executed("counts.host_busy_cycles", "host: cycles a second, line busy",
                                       schedule.busy_hz, host.core, "executed routines", "MHz");
  const Figure none = draft.zero(dimensions::power);
  const Figure busy_w = cycles * cycle + message_rate(draft) * wake;
  if (schedule.tick_hz == 0) {
    add_contribution(draft, drawn, {"host", "host's added load"}, busy_w, none, none);
    return;
  }
  const Figure tick = draft.counted("counts.host_tick_cycles", "host: cycles of one tick of the timers",
                                    exactly(schedule.tick_cycles), "executed routines");
  const Figure ticking_w =
      draft.name(draft.ledger().constant(schedule.tick_hz, dimensions::frequency, "ticks of the timers") *
                     (tick * cycle + wake),
                 "host_ticking", "host, added by ticks while timers run", "mW");
  add_contribution(draft, drawn, {"host", "host's added load"}, busy_w + ticking_w, none, none);
  const Figure no_energy = draft.zero(dimensions::energy);
  drawn.wake_ups.push_back({"host", no_energy, no_energy, ticking_w});
}

// C V_swing V_supply for each rising edge, one in two, from a rail of the swing behind a linear regulator; half of
// the messages are this side's. Energy: check values computed from the line's ranges in IEC 62680-1-2.
void add_line(Draft& draft, Drawn& drawn) {
  const study::PortFunction& function = draft.context.study.function;
  const study::Timing& timing = function.timing;
  const auto coded = std::find_if(function.blocks.begin(), function.blocks.end(),
                                  [](const auto& block) { return static_cast<bool>(block.kind->line); });
  if (!timing.line_capacitance || !timing.line_swing || coded == function.blocks.end()) return;
  const Figure rises_hz = 0.5 * driven_edges_per_bit(draft) * draft.input(timing.bit_rate);
  const Figure energy = draft.input(*timing.line_capacitance) * draft.input(*timing.line_swing) *
                        draft.input(draft.context.study.supply_voltage);
  const auto at = static_cast<std::size_t>(coded - function.blocks.begin());
  const EngineKind carrier = draft.candidate.engine_of_block[at];
  const Figure none = draft.zero(dimensions::power);
  add_contribution(draft, drawn, {"line", "transmitter into the line", "busy", "quiet", carrier},
                   rises_hz * energy, none, none);
}

}  // namespace

void add_other_power(Draft& draft, const Placed& placed, Drawn& drawn) {
  if (draft.candidate.fixed() != nullptr) add_fixed_function(draft, drawn);
  add_comparators_inside(draft, drawn);
  add_line(draft, drawn);
  add_external(draft, drawn);
  if (const Firmware* host = placed.firmware_on(EngineKind::host)) add_host(draft, host->schedule, drawn);
  if (draft.candidate.logic() == nullptr && draft.candidate.microcontroller() == nullptr) {
    draft.name(draft.zero(dimensions::frequency), "clock_rate", "clock (none of our choosing)", "MHz");
  }
}

}  // namespace portweigh::options

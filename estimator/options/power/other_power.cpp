// What the rest draws: a fixed-function controller, comparators inside or outside, the host's added load.
#include <fmt/core.h>

#include <algorithm>

#include "options/draft.hpp"
#include "options/firmware/event_rules.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

Figure supply_voltage(Draft& draft) {
  return draft.input("study.supply_voltage", "supply of the port's silicon",
                     draft.context.study.supply_voltage);
}

void add(Draft& draft, std::string_view name, std::string_view label, Figure busy, Figure quiet,
         Figure detached, bool is_main_part) {
  const auto named = [&](Figure figure, std::string_view mode) {
    return draft.name(figure, fmt::format("power.{}.{}", name, mode), fmt::format("{}, {}", label, mode),
                      "mW");
  };
  draft.power.push_back({std::string(label), named(busy, "busy"), named(quiet, "quiet"),
                         named(detached, "detached"), is_main_part});
}

void add_fixed_function(Draft& draft) {
  const parts::FixedFunction& part = *draft.candidate.fixed;
  const Figure supply = supply_voltage(draft);
  const auto current = [&](std::string_view field, std::string_view label, const parts::SourcedRange& range) {
    return supply * draft.input(fmt::format("parts.{}.{}", part.part.id, field), label, range,
                                fmt::format("process of {}", part.part.id));
  };
  add(draft, "controller", "controller", current("active_current", "current, line busy", part.active_current),
      current("attached_current", "current, attached", part.attached_current),
      current("detached_current", "current, waiting for a cable", part.detached_current), true);
}

unsigned comparators_inside(const Candidate& candidate) {
  unsigned inside = candidate.logic != nullptr ? candidate.logic->comparators : 0;
  if (candidate.microcontroller != nullptr) {
    const auto found = candidate.microcontroller->peripherals.find("comparator");
    if (found != candidate.microcontroller->peripherals.end()) inside += found->second;
  }
  return inside;
}

unsigned comparators_needed(const Draft& draft) {
  unsigned needed = 0;
  for (const study::FunctionBlock& block : draft.context.study.function.blocks) {
    if (block.kind->analogue) needed += block.kind->analogue(block.settings).comparators;
  }
  return needed;
}

// Comparators of the main part stay on in every state: they watch the line and the cable.
void add_comparators_inside(Draft& draft) {
  const Candidate& candidate = draft.candidate;
  const unsigned used = std::min(comparators_inside(candidate), comparators_needed(draft));
  if (used == 0 || candidate.fixed != nullptr) return;
  const auto& [id, range] =
      candidate.logic != nullptr && candidate.logic->comparators > 0
          ? std::pair{candidate.logic->part.id, candidate.logic->comparator_current}
          : std::pair{candidate.microcontroller->part.id, candidate.microcontroller->comparator_current};
  const Figure each = draft.input(fmt::format("parts.{}.comparator_current", id), "current of a comparator",
                                  range, fmt::format("process of {}", id));
  const Figure all_w =
      supply_voltage(draft) * each *
      draft.counted("counts.comparators", "comparators in use", exactly(used), "port function");
  add(draft, "comparators", "comparators", all_w, all_w, all_w, true);
}

void add_external(Draft& draft) {
  const Figure supply = supply_voltage(draft);
  for (const BillLine& line : draft.option.bill) {
    const auto& all = draft.context.catalog.external_parts;
    const auto part =
        std::find_if(all.begin(), all.end(), [&](const auto& other) { return other.id == line.id; });
    if (part == all.end()) continue;
    const auto current = [&](std::string_view field, std::string_view label,
                             const parts::SourcedRange& range) {
      return supply * draft.input(fmt::format("parts.{}.{}", part->id, field), label, range) *
             draft.counted(fmt::format("counts.{}.bodies", part->id), "bodies", exactly(line.count),
                           "parts list");
    };
    const Figure standby_w = current("standby_current", "current in standby", part->standby_current);
    // A configuration memory is read once, at power-up; configuration energy is the part's.
    const bool is_always_asleep = part->role == parts::ExternalRole::configuration_flash;
    const Figure active_w =
        is_always_asleep ? standby_w : current("active_current", "current in use", part->active_current);
    add(draft, part->id, part->summary, active_w, active_w, standby_w, false);
  }
}

void add_host(Draft& draft) {
  const study::Host& host = *draft.context.study.host;
  const Schedule& schedule = *draft.host_schedule;
  const Figure cycle =
      draft.input("study.host.energy_per_cycle", "host: energy of an added cycle", host.energy_per_cycle);
  const Figure wake =
      draft.input("study.host.wake_up_energy", "host: energy of a wake-up", host.wake_up_energy);
  const Figure cycles = draft.executed("counts.host_busy_cycles", "host: cycles a second, line busy",
                                       schedule.busy_hz, host.core, "executed routines", "MHz");
  const study::Timing& timing = draft.context.study.function.timing;
  const Figure rate = draft.input("function.bit_rate", "bit rate", timing.bit_rate);
  const Figure bits = draft.input("function.message_bits", "bits of a message", timing.message_bits);
  const Figure messages = rate / bits;
  const Figure none = draft.zero(dimensions::power);
  add(draft, "host", "host's added load", cycles * cycle + messages * wake, none, none, false);
  draft.wake_up_energy.push_back(wake);
}

}  // namespace

void add_other_power(Draft& draft) {
  if (draft.candidate.fixed != nullptr) add_fixed_function(draft);
  add_comparators_inside(draft);
  add_external(draft);
  if (draft.host_schedule) add_host(draft);
  if (!draft.ledger().find("clock_rate")) {
    draft.name(draft.zero(dimensions::frequency), "clock_rate", "clock (none of our choosing)", "MHz");
  }
}

}  // namespace portweigh::options

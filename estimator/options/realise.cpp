#include "options/option.hpp"

#include "options/money/money.hpp"
#include "options/package/external_parts.hpp"
#include "options/power/power.hpp"

namespace portweigh::options {
namespace {

// From the first step to the last that finds the candidate impossible, or to the end.
Impossible take_steps(Draft& draft) {
  const auto placed = place_blocks(draft);
  if (const auto* reason = std::get_if<Shortfall>(&placed)) return *reason;
  const auto& place = std::get<Placed>(placed);
  const auto packaged = choose_packages(draft, place);
  if (const auto* reason = std::get_if<Shortfall>(&packaged)) return *reason;
  const auto& packages = std::get<Packaged>(packaged);
  const auto counted = count_cells(draft, place);
  if (const auto* reason = std::get_if<Shortfall>(&counted)) return *reason;
  const auto& cells = std::get<Cells>(counted);
  if (auto reason = list_external_parts(draft)) return reason;
  Drawn drawn;
  add_fabric_power(draft, place, packages, cells, drawn);
  if (const Firmware* firmware = place.firmware_on(EngineKind::microcontroller)) {
    add_processor_power(draft, *firmware, drawn);
  }
  add_other_power(draft, place, drawn);
  add_clock_limits(draft, place);
  const auto power = sum_power_and_heat(draft, packages, drawn);
  if (const auto* reason = std::get_if<Shortfall>(&power)) return *reason;
  if (const auto& battery = draft.context.study.battery) add_battery(draft, *battery, std::get<Power>(power));
  add_money(draft, packages, add_engineering(draft, place, cells));
  return std::nullopt;
}

}  // namespace

Realised realise(const Context& context, const Candidate& candidate) {
  Draft draft(context, candidate);
  draft.option.id = candidate.id;
  draft.option.kind = candidate.kind;
  draft.option.parts = candidate.part_ids();
  if (!candidate.search_note.empty()) draft.option.notes.push_back(candidate.search_note);
  if (auto reason = candidate.no_assignment ? candidate.no_assignment : take_steps(draft)) {
    return Rejection{candidate.id,   candidate.kind,    candidate.part_ids(), std::move(reason->reason),
                     reason->needed, reason->available, reason->unit};
  }
  return std::move(draft.option);
}

}  // namespace portweigh::options

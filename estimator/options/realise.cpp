#include "options/realise.hpp"

#include "options/draft.hpp"

namespace portweigh::options {

Realised realise(const Context& context, const Candidate& candidate) {
  Draft draft(context, candidate);
  draft.option.id = candidate.id;
  draft.option.kind = candidate.kind;
  draft.option.parts = candidate.part_ids();
  if (!candidate.search_note.empty()) draft.option.notes.push_back(candidate.search_note);
  const auto rejected = [&](Shortfall shortfall) {
    return Rejection{candidate.id,     candidate.kind,      candidate.part_ids(), std::move(shortfall.reason),
                     shortfall.needed, shortfall.available, shortfall.unit};
  };
  if (candidate.no_assignment) return rejected(*candidate.no_assignment);
  for (const auto step : {place_blocks, choose_packages, count_cells}) {
    if (auto reason = step(draft)) return rejected(std::move(*reason));
  }
  list_external_parts(draft);
  add_fabric_power(draft);
  add_processor_power(draft);
  add_other_power(draft);
  if (auto reason = sum_power_and_heat(draft)) return rejected(std::move(*reason));
  add_battery(draft);
  add_engineering(draft);
  add_money(draft);
  return std::move(draft.option);
}

}  // namespace portweigh::options

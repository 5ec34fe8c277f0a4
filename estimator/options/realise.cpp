#include "options/realise.hpp"

#include "options/draft.hpp"

namespace portweigh::options {

Realised realise(const Context& context, const Candidate& candidate) {
  Draft draft(context, candidate);
  draft.option.id = candidate.id;
  draft.option.kind = candidate.kind;
  draft.option.parts = candidate.part_ids();
  const auto rejected = [&](std::string reason) {
    return Rejection{candidate.id, candidate.kind, candidate.part_ids(), std::move(reason)};
  };
  for (const auto step : {place_blocks, count_cells, choose_packages}) {
    if (auto reason = step(draft)) return rejected(std::move(*reason));
  }
  list_external_parts(draft);
  add_fabric_power(draft);
  add_processor_power(draft);
  add_other_power(draft);
  if (auto reason = sum_power_and_heat(draft)) return rejected(std::move(*reason));
  add_engineering(draft);
  add_money(draft);
  return std::move(draft.option);
}

}  // namespace portweigh::options

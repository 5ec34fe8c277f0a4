// What an option costs: a unit, once, for change, and over its life. The steps stand in money.hpp.
#include "options/money/money.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace portweigh::options {

using figures::Figure;

Figure of_study(Draft& draft, std::string_view field, std::string_view label,
                const reading::SourcedRange& range) {
  return draft.input(fmt::format("study.{}", field), label, range);
}

const parts::Part* main_part(const Draft& draft, std::string_view id) {
  const Candidate& candidate = draft.candidate;
  if (candidate.logic != nullptr && candidate.logic->part.id == id) return &candidate.logic->part;
  if (candidate.microcontroller != nullptr && candidate.microcontroller->part.id == id) {
    return &candidate.microcontroller->part;
  }
  if (candidate.fixed != nullptr && candidate.fixed->part.id == id) return &candidate.fixed->part;
  return nullptr;
}

const parts::ExternalPart* external_part(const Draft& draft, std::string_view id) {
  const auto& all = draft.context.catalog.external_parts;
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& part) { return part.id == id; });
  return found == all.end() ? nullptr : &*found;
}

void add_money(Draft& draft) {
  const LifePlan plan = plan_life(draft);
  const Figure labour = of_study(draft, "labour_rate", "labour rate", draft.context.study.money.labour_rate);
  const UnitCost unit = add_unit_cost(draft, plan);
  const Figure one_time = add_one_time(draft, labour);
  const ChangeCost change = add_change(draft, plan, labour);
  add_life_cost(draft, plan, unit, one_time, change);
  add_supply(draft, plan);
}

}  // namespace portweigh::options

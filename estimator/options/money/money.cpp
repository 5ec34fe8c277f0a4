// What an option costs: a unit, once, for change, and over its life. The steps stand in money.hpp.
#include "options/money/money.hpp"

namespace portweigh::options {

using figures::Figure;

void add_money(Draft& draft, const Packaged& packaged, const Engineering& engineering) {
  const LifePlan plan = plan_life(draft);
  const Figure labour = draft.input(draft.context.study.money.labour_rate);
  const UnitCost unit = add_unit_cost(draft, plan, packaged.chips);
  const Figure one_time = add_one_time(draft, engineering, labour);
  const ChangeCost change =
      add_change(draft, {plan, engineering.items, labour, unit.unit, packaged.lead_time});
  add_life_cost(draft, plan, unit, one_time, change);
  add_supply(draft, plan);
}

}  // namespace portweigh::options

// What an option costs over its life: a unit with its share of everything, and all of it at today's value.
//
//   cost of a unit over life = average unit cost + (one-time + change + stock) / units
//   average unit cost = parts x price level + production x learning level, weighted by the units of each year
//   price level of year t = (1 - erosion)^(t - 1);   learning: learning.hpp
//   net present cost = one-time cost today + each year's cost at its end, discounted
// Last-time buy: where the maker's promise to supply a part ends before production does, the rest is bought
// at that time, and on average half of it is stored for the rest of the years:
//   stock = units left x parts x carrying cost a year x years left / 2
// Tested by tests/options/money/life_cost_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "options/money/discounting.hpp"
#include "options/money/learning.hpp"
#include "options/money/money.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;
namespace dimensions = figures::dimensions;

// Units of each year times the level of prices in it.
std::vector<Figure> priced_units(Draft& draft, const LifePlan& plan) {
  std::vector<Figure> units;
  const auto& erosion = draft.context.study.life.price_erosion;
  for (const ProductionYear& year : plan.by_year) {
    if (!erosion || year.number == 1) {
      units.push_back(year.units);
      continue;
    }
    const Figure falls = draft.input(*erosion);
    units.push_back(year.units * power(1.0 - falls, static_cast<double>(year.number - 1)));
  }
  return units;
}

// Units of each year times the level of the company's own production cost in it.
std::vector<Figure> learned_units(Draft& draft, const LifePlan& plan) {
  const study::Life& life = draft.context.study.life;
  std::vector<Figure> units;
  if (!life.learning_rate) {
    for (const ProductionYear& year : plan.by_year) units.push_back(year.units);
    return units;
  }
  const Figure exponent = draft.name(learning_exponent(draft.input(*life.learning_rate)), "learning_exponent",
                                     "exponent of the learning curve", "1");
  const Figure level = learning_level(draft.input(*life.learning_reference), exponent);
  std::optional<Figure> before;
  for (const ProductionYear& year : plan.by_year) {
    const Figure total = learning_total(life.learning_curve, year.units_so_far, exponent);
    units.push_back((before ? total - *before : total) / level);
    before = total;
  }
  return units;
}

Figure average_unit_cost(Draft& draft, const LifePlan& plan, const UnitCost& unit,
                         const std::vector<Figure>& priced, const std::vector<Figure>& learned) {
  const study::Life& life = draft.context.study.life;
  const std::string& currency = draft.context.study.currency;
  if (!life.price_erosion && !life.learning_rate) return unit.unit;
  Figure parts_cost = unit.parts;
  Figure production = unit.production;
  if (life.price_erosion) {
    parts_cost = parts_cost * draft.name(sum(priced) / plan.units, "price_level",
                                         "part prices over life by those of the first year", "1");
  }
  if (life.learning_rate) {
    production = production * draft.name(sum(learned) / plan.units, "learning_level",
                                         "production cost over life by that of the reference", "1");
  }
  return draft.name(parts_cost + production, "average_unit_cost", "unit cost, mean over life", currency);
}

// The shortest promise of supply among the main parts, where it may end before production does.
const parts::Part* first_to_end(const Draft& draft) {
  const parts::Part* first = nullptr;
  for (const Chip& chip : draft.candidate.chips) {
    const parts::Part* part = &chip.part();
    if (first == nullptr || part->availability.value_si < first->availability.value_si) first = part;
  }
  const double year_s = figures::to_si(1, figures::parse_unit("year"));
  if (first == nullptr) return nullptr;
  return first->availability.value_si < draft.context.study.years.range.high * year_s ? first : nullptr;
}

std::optional<Figure> last_time_buy(Draft& draft, const LifePlan& plan, const UnitCost& unit) {
  const parts::Part* part = first_to_end(draft);
  if (part == nullptr) return std::nullopt;
  const study::Study& study = draft.context.study;
  const Figure year =
      draft.ledger().constant(figures::to_si(1, figures::parse_unit("year")), dimensions::time, "a year");
  const Figure promised = draft.input(part->availability) / year;
  const Figure years_left = draft.name(maximum(plan.years - promised, draft.zero(dimensions::dimensionless)),
                                       "years_from_stock", "years made from stock", "1");
  const Figure units_left = draft.name(plan.units - units_in_field(draft, plan, promised), "units_from_stock",
                                       "units made from a last-time buy", "1");
  const Figure carrying = study.life.carrying_cost ? draft.input(*study.life.carrying_cost)
                                                   : draft.input(study.money.discount_rate);
  return draft.name(units_left * unit.parts * carrying * years_left / 2.0, "last_time_buy_cost",
                    "storing a last-time buy", study.currency);
}

}  // namespace

void add_life_cost(Draft& draft, const LifePlan& plan, const UnitCost& unit, Figure one_time,
                   const ChangeCost& change) {
  const study::Study& study = draft.context.study;
  const std::string& currency = study.currency;
  const auto priced = priced_units(draft, plan);
  const auto learned = learned_units(draft, plan);
  const auto stock = last_time_buy(draft, plan, unit);
  Figure each =
      average_unit_cost(draft, plan, unit, priced, learned) +
      draft.name(one_time / plan.units, "one_time_cost_per_unit", "share of the one-time cost", currency) +
      draft.name(change.total / plan.units, "change_cost_per_unit", "share of the cost of change", currency);
  if (stock) {
    each = each + draft.name(*stock / plan.units, "last_time_buy_cost_per_unit",
                             "share of storing a last-time buy", currency);
  }
  draft.name(each, "cost_per_unit_over_life", "cost for each unit over life", currency);

  std::vector<Figure> flows = {one_time};
  for (std::size_t i = 0; i < plan.by_year.size(); ++i) {
    Figure flow = unit.parts * priced[i] + unit.production * learned[i] + change.by_year[i];
    // Stock is paid for in the last year of the plan, the latest it can be.
    if (stock && i + 1 == plan.by_year.size()) flow = flow + *stock;
    flows.push_back(draft.name(flow, fmt::format("year_{}.cost", i + 1),
                               fmt::format("cost of year {}", i + 1), currency));
  }
  draft.name(present_value(flows, draft.input(study.money.discount_rate)), "net_present_cost",
             "net present cost", currency);
}

}  // namespace portweigh::options

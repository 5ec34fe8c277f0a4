// How many units are made in which year of production.
//
//   share of year t = what of it lies within the years of production, 0..1; the last year planned takes the
//   rest units of year t = volume x ramp of year t x share of year t in field        = units in use, averaged
//   over the time of production; half of all where there is no ramp
//   units of an order  = volume / orders a year
// Part prices are those of the full yearly volume also while it ramps up: they are contracted for it (common
// practice). Tested by tests/options/money/life_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "options/money/money.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;

constexpr int most_years = 30;  // planned one by one; what is beyond counts to the last

int planned_years(const study::Study& study) {
  return std::clamp(static_cast<int>(std::ceil(study.years.range.high)), 1, most_years);
}

// What of year `number` lies before `time`, in years after the start.
Figure share_before(Draft& draft, Figure time, int number, int last) {
  if (number == 1) return last == 1 ? time : minimum(time, draft.ledger().constant(1));
  const Figure later = maximum(time - static_cast<double>(number - 1), draft.ledger().constant(0));
  return number == last ? later : minimum(later, draft.ledger().constant(1));
}

// Units a year in year `number`.
Figure yearly_units(Draft& draft, Figure volume, int number) {
  const auto& ramp = draft.context.study.life.volume_ramp;
  if (ramp.empty()) return volume;
  const auto entry = std::min(static_cast<std::size_t>(number - 1), ramp.size() - 1);
  return volume * draft.input(ramp[entry]);
}

Figure average_in_field(Draft& draft, const LifePlan& plan) {
  if (draft.context.study.life.volume_ramp.empty()) return 0.5 * plan.units;
  Figure unit_years = draft.zero(figures::dimensions::dimensionless);
  for (const ProductionYear& year : plan.by_year) {
    unit_years = unit_years + year.share * (year.units_so_far - 0.5 * year.units);
  }
  return unit_years / plan.years;
}

}  // namespace

LifePlan plan_life(Draft& draft) {
  const study::Study& study = draft.context.study;
  const Figure volume = draft.input(study.volume_per_year);
  const Figure years = draft.input(study.years);
  const Figure of_order = draft.name(volume / draft.input(study.orders_per_year), "units_of_order",
                                     "units whose parts are ordered at once", "1");
  LifePlan plan{volume, of_order, years, volume, volume, {}};
  const int last = planned_years(study);
  for (int number = 1; number <= last; ++number) {
    const Figure share = share_before(draft, years, number, last);
    const Figure units =
        draft.name(yearly_units(draft, volume, number) * share, fmt::format("year_{}.units", number),
                   fmt::format("units made in year {}", number), "1");
    const Figure so_far = plan.by_year.empty() ? units : plan.by_year.back().units_so_far + units;
    plan.by_year.push_back({number, share, units, so_far});
  }
  const Figure all = study.life.volume_ramp.empty() ? volume * years : plan.by_year.back().units_so_far;
  plan.units = draft.name(all, "units", "units over life", "1");
  plan.in_field = draft.name(average_in_field(draft, plan), "units_in_field",
                             "units in use when a revision comes, on average", "1");
  return plan;
}

Figure units_in_field(Draft& draft, const LifePlan& plan, Figure years_after_start) {
  const Figure time = minimum(years_after_start, plan.years);
  if (draft.context.study.life.volume_ramp.empty()) return plan.volume * time;
  std::vector<Figure> units;
  const int last = static_cast<int>(plan.by_year.size());
  for (const ProductionYear& year : plan.by_year) {
    units.push_back(yearly_units(draft, plan.volume, year.number) *
                    share_before(draft, time, year.number, last));
  }
  return sum(units);
}

}  // namespace portweigh::options

// The steps of an option's money, in their order; each takes what it needs of the ones before.
//
//   plan_life       units of each year, prices and learning by year                        life.cpp
//   add_unit_cost   unit_cost = parts, board and assembly, programming and test            unit_cost.cpp
//   add_one_time    one_time_cost = engineering, certification, tools, prototypes          one_time_cost.cpp
//   add_change      change_cost and its distribution, reaction_time                        change.cpp
//   add_life_cost   cost_per_unit_over_life, net_present_cost, last-time buy               life_cost.cpp
//   add_supply      single_sourced_parts, availability_shortfall                           supply.cpp
// Money is in the study's currency. Each step is tested by the test named like its file, such as
// tests/options/money/unit_cost_test.cpp.
#pragma once

#include <string_view>
#include <vector>

#include "options/money/engineering.hpp"
#include "options/package/package.hpp"

namespace portweigh::options {

// One year of production; the last of a plan holds whatever is left of the years.
struct ProductionYear {
  int number = 1;
  figures::Figure share;         // of the year in which is made, 0..1 (the last: any)
  figures::Figure units;         // made in it
  figures::Figure units_so_far;  // its own included
};

struct LifePlan {
  figures::Figure volume;          // units a year once the ramp is over
  figures::Figure units_of_order;  // whose parts are ordered at once
  figures::Figure years;
  figures::Figure units;     // over life
  figures::Figure in_field;  // units in use when something happens at any time of the production, on average
  std::vector<ProductionYear> by_year;
};

LifePlan plan_life(Draft& draft);
// Units in use `years_after_start` years after the first one.
figures::Figure units_in_field(Draft& draft, const LifePlan& plan, figures::Figure years_after_start);

// What a unit consists of: bought parts follow prices, the rest follows the company's own learning.
struct UnitCost {
  figures::Figure parts;       // with attrition
  figures::Figure production;  // board, placement, programming, test
  figures::Figure unit;        // both, by the yield
};

UnitCost add_unit_cost(Draft& draft, const LifePlan& plan, const std::vector<Chip>& chips);
// By what carries the protocol: own logic, else own firmware, else ready controllers.
figures::Figure certification_of(Draft& draft);
figures::Figure add_one_time(Draft& draft, const Engineering& engineering, figures::Figure labour_rate);

// The expected cost of change, and how it falls on the years of the plan.
struct ChangeCost {
  figures::Figure total;
  std::vector<figures::Figure> by_year;
};

// What following a revision is made of.
struct ChangeInputs {
  const LifePlan& plan;
  const std::vector<EffortItem>& effort;
  figures::Figure labour_rate;
  figures::Figure unit_cost;
  figures::Figure lead_time;
};

ChangeCost add_change(Draft& draft, const ChangeInputs& in);
void add_life_cost(Draft& draft, const LifePlan& plan, const UnitCost& unit, figures::Figure one_time,
                   const ChangeCost& change);
void add_supply(Draft& draft, const LifePlan& plan);

void add_money(Draft& draft, const Packaged& packaged, const Engineering& engineering);

}  // namespace portweigh::options

// Whether the parts can be had: a second source, and for how long.
//
//   single_sourced_parts   main parts without a drop-in part of another maker; a budget of 0 asks for second
//                          sources everywhere
//   availability_shortfall by how much production goes on after the shortest promise of supply ends; 0 if
//   never
// The lead time stands with the parts list (lead_time, the longest). Tested by
// tests/options/money/supply_test.cpp.
#include <fmt/core.h>

#include "options/money/money.hpp"

namespace portweigh::options {

using figures::Figure;
namespace dimensions = figures::dimensions;

void add_supply(Draft& draft, const LifePlan& plan) {
  double single = 0;
  std::string which;
  Figure shortfall = draft.zero(dimensions::time);
  const Figure year =
      draft.ledger().constant(figures::to_si(1, figures::parse_unit("year")), dimensions::time, "a year");
  for (const Chip& chip : draft.candidate.chips) {
    const parts::Part& part = chip.part();
    if (!part.has_second_source) {
      single += 1;
      which += (which.empty() ? "" : ", ") + part.id;
    }
    const Figure promised = draft.input(part.availability);
    shortfall = maximum(shortfall, plan.years * year - promised);
  }
  draft.name(draft.counted(fmt::format("counts.{}.single_sourced_parts", draft.candidate.id),
                           "main parts without a second source", figures::exactly(single),
                           which.empty() ? "catalog: none" : "catalog: " + which),
             "single_sourced_parts", "main parts without a second source", "1");
  draft.name(shortfall, "availability_shortfall", "production beyond the promised supply", "year");
}

}  // namespace portweigh::options

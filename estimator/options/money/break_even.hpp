// At which volume two options cost the same, and at which price of its part the dearer one would win.
//
//   volume: cost_per_unit_over_life of both at volume_per_year, equal;  with unit costs u and one-time costs
//   c
//           and nothing else: (c1 - c2) / (u2 - u1) units
//   price:  cost over life is linear in the price of a part, so two evaluations give the price
// Worked example: 4.20 a unit and 5000 once against 1.90 and 50000: equal at 19565 units.
// Tested by tests/options/money/break_even_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "options/option.hpp"

namespace portweigh::options {

// All volumes a year between `from` and `to` (both positive) at which the cheaper of the two changes, rising.
std::vector<double> break_even_volumes(const Option& a, const Option& b, double from, double to);

struct WinningPrice {
  std::string part;
  double price_now = 0;     // at the study's volume, in the study's currency
  double price_needed = 0;  // with which the dear option costs as little over life as the cheap one
};

// For the first main part of `dear`; none where the part's price does not tell the options apart or would
// have to be negative.
std::optional<WinningPrice> winning_price(const Option& dear, const Option& cheap);

}  // namespace portweigh::options

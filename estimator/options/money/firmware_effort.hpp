// COCOMO as formulas of a ledger: effort of firmware, and the time that any effort takes.
//
//   person-months = a KDSI^b x d1 x d2 x ...          (coefficients: parts/cocomo.hpp)
//   months        = larger of 2.5 person-months^c and person-months / team size
// The first bound is the model's own schedule; the second holds where the team is smaller than that schedule
// implies. Worked example: basic, embedded, 128 KDSI: 1216 person-months in 24 months.
// Tested by tests/options/money/firmware_effort_test.cpp.
#pragma once

#include <span>

#include "figures/ledger/ledger.hpp"
#include "parts/cocomo.hpp"

namespace portweigh::options {

// All figures dimensionless.
figures::Figure cocomo_person_months(figures::Figure kdsi, const parts::CocomoCoefficients& coefficients,
                                     std::span<const figures::Figure> drivers);
figures::Figure cocomo_months(figures::Figure person_months, const parts::CocomoCoefficients& coefficients,
                              figures::Figure team_size);

}  // namespace portweigh::options

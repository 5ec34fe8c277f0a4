// Learning curves: each doubling of the units made lowers cost to the same share of what it was.
//
//   b = log2(rate), total cost in units of the first one's
//   Wright:    the mean of all n units falls:   total(n) = n n^b
//   Crawford:  the latest unit's cost falls:    total(n) = sum of i^b for i = 1..n, here by its midpoint
//              integral ((n + 1/2)^(1+b) - (1/2)^(1+b)) / (1+b), within 1.2 % at 8 units and 0.3 % at 100 for
//              rates from 0.7 on
// Worked example, 80 %: Wright totals of 2, 4, 8 units 1.6, 2.56, 4.096; Crawford's units 2, 4, 8 cost 0.8,
// 0.64, 0.512. Sources: T. P. Wright 1936; J. R. Crawford 1944. Tested by tests/options/money/learning_test.cpp.
#pragma once

#include "figures/ledger/ledger.hpp"
#include "study/study.hpp"

namespace portweigh::options {

// log2 of the rate: 0 for no learning, negative otherwise.
figures::Figure learning_exponent(figures::Figure rate);

// Cost of the first n units by the cost of the first; n >= 1.
figures::Figure learning_total(study::LearningCurve curve, figures::Figure n, figures::Figure exponent);

// What a cost given at `n` units refers to: the mean (Wright) or the unit (Crawford), by the first unit's.
figures::Figure learning_level(figures::Figure n, figures::Figure exponent);

}  // namespace portweigh::options

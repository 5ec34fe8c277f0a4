// Options made by hand: a few formulas of one or two inputs, enough to explore.
#pragma once

#include <functional>
#include <string>

#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::tests {

// Dimensionless inputs x (typical 1, range 0.5..2) and y (typical 1, exact) that all options share.
using Formula = std::function<figures::Figure(figures::Ledger&, figures::Figure x, figures::Figure y)>;

// An option with one figure, "effort".
options::Option option_of(const std::string& id, const Formula& effort);

// A budget on "effort" of 10: the margin, which is the score, is 1 - effort / 10.
study::Study study_of_effort(study::Strength strength = study::Strength::wish);

}  // namespace portweigh::tests

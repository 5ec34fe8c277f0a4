// Weights of the budgets from points for swings.
//
// Asked "how much does it matter to go from the worst option's value to the best one's", people weigh better
// than asked for weights alone, since a weight means nothing without the range it is for (Edwards and Barron
// 1994).
//     weight = points / (margin of the best option - margin of the worst), at typical values
// scaled to a mean of 1. A budget in which all options are alike gets no weight. Tested by
// tests/decision/swing_test.cpp.
#pragma once

#include <vector>

#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::decision {

// The study with the weights that follow from its swings; the same study where it has none.
study::Study with_swing_weights(study::Study study, const std::vector<options::Option>& options);

}  // namespace portweigh::decision

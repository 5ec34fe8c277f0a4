// How far a figure moves with each input: one reverse pass over the ledger gives d figure / d input for all
// inputs.
//
// Rules where a function has a corner: minimum and maximum follow the smaller or larger argument (the first
// if equal), a lookup follows the segment the value lies in (0 outside the points), at_least, round_up and
// round_down have slope 0, select follows the branch taken. Method: reverse accumulation; Griewank & Walther,
// "Evaluating Derivatives", 2nd edition, SIAM 2008, chapter 3. Tested against central differences by
// tests/figures/gradient_test.cpp.
#pragma once

#include <span>
#include <vector>

#include "figures/evaluate.hpp"

namespace portweigh::figures {

// In the ledger's input order; SI unit of the figure per SI unit of the input.
[[nodiscard]] std::vector<double> gradient(const Ledger& ledger, Figure figure,
                                           std::span<const Setting> settings = {});

// Elasticities: percent of the figure per percent of the input, (d figure / d input) * input / figure. An
// entry is 0 where the figure is 0.
[[nodiscard]] std::vector<double> elasticities(const Ledger& ledger, Figure figure,
                                               std::span<const Setting> settings = {});

}  // namespace portweigh::figures

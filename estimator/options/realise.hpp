// Realising a candidate: every figure of an option, in one ledger, or the reason why it can't be.
//
// Order: placing (features, firmware deadlines, memory) -> package and pins -> cells and clock -> external
// parts -> power by contributor -> power by state, averages, heat -> battery -> effort -> money. Tested by
// tests/options/search/consider_test.cpp.
#pragma once

#include "options/option.hpp"

namespace portweigh::options {

Realised realise(const Context& context, const Candidate& candidate);

}  // namespace portweigh::options

// Which candidates there are: for each part of the catalog, the sensible assignments of the function's
// layers.
//
//   all in logic; all in firmware; fixed function
//   physical and message layer in logic, policy in a soft processor in the same fabric
//   physical and message layer in logic, policy in the product's own processor
//   physical and message layer in logic, policy in a second chip, a microcontroller
// A function that needs no silicon gives the one candidate without any. Parts that the study excludes are
// left out. Candidates come in a fixed order. Tested by tests/options/enumerate_test.cpp.
#pragma once

#include <vector>

#include "options/candidate.hpp"

namespace portweigh::options {

std::vector<Candidate> enumerate(const Context& context);

// Every block on every kind of fabric and core that the candidates use, counted by `threads` threads.
void prepare_library(const Context& context, const std::vector<Candidate>& candidates, unsigned threads);

}  // namespace portweigh::options

// Which candidates there are: for each part and each pair of parts of the catalog, the sensible assignments.
//
//   all in logic; all in firmware; fixed function
//   physical and message layer in logic, policy in a soft processor in the same fabric
//   physical and message layer in logic, policy in the product's own processor
//   physical and message layer in logic, policy in a second chip, a microcontroller
//   for each of these pairs the assignment of least average power (split_search.hpp) where it is another one:
//   "pl-flash-c+mcu-8b-timer:message/policy" has the groups message and policy in the microcontroller
//   a fixed-function controller that can't do all, with the rest in the host, a microcontroller or a fabric
// A pair without any assignment that works is a candidate too, with the reason.
// A function that needs no silicon gives the one candidate without any. Parts that the study excludes are
// left out. Candidates come in a fixed order. Tested by tests/options/search/consider_test.cpp and
// split_search_test.cpp.
#pragma once

#include <vector>

#include "options/candidate.hpp"

namespace portweigh::options {

// With `threads` threads; the result is the same for any number.
std::vector<Candidate> enumerate(const Context& context, unsigned threads = 1);

// Every block on every kind of fabric and core of the parts the study looks at, counted by `threads` threads.
void prepare_library(const Context& context, unsigned threads);

}  // namespace portweigh::options

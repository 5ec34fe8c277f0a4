// Why an option that can be built is not the one to take, in plain words with the number that failed.
//
// Hard budgets it misses at typical values, each with by how much, the worst first: "active_power 49.8 mW is
// 37.8 mW over its limit of 12 mW". If it meets them all but is dominated: the option that dominates it, and
// the figure in which it is furthest behind. Empty for the options that remain. Tested by
// tests/report/shortcoming_test.cpp.
#pragma once

#include <string>

#include "report/saved/run.hpp"

namespace portweigh::report {

std::string shortcoming(const Run& run, const decision::RankedOption& ranked);

}  // namespace portweigh::report

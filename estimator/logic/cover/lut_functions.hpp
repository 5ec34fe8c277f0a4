// Truth tables of the LUTs of a covering: the function of each LUT's cone over its leaves.
//
// Tested by tests/logic/cover/cover_test.cpp (covers are simulated against the network).
#pragma once

#include <vector>

#include "logic/cover/priority_cuts.hpp"
#include "logic/graph/graph.hpp"
#include "logic/graph/truth_table.hpp"

namespace portweigh::logic {

std::vector<TruthTable> lut_functions(const Graph& graph, const Covering& covering);

}  // namespace portweigh::logic

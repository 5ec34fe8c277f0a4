// Covering of a subject graph with K-input LUTs by priority cuts.
//
// Passes over the nodes in topological order: three for depth, three for area flow, then two for exact local
// area, each keeping the best few cuts of a node and enumerating them anew. After the depth passes the
// required levels are frozen, so that area is recovered only off the critical paths. Area flow of a cut: 1 +
// sum over leaves of flow(leaf) / expected references(leaf). Exact area: the LUTs that enter the cover with
// the cut. Orders: depth passes (depth, size, flow) or (depth, flow, size), area passes (area, depth, size).
// Example: 16-input XOR, K = 4: 5 LUTs, 2 levels.
//
// Sources, from memory [M]: few cuts for each node, enumerated in every pass: Mishchenko, Cho, Chatterjee,
// Brayton, ICCAD 2007. Area flow: Cong, Wu, Ding, FPGA 1999. Expected references smoothed over passes:
// Manohararajah, Brown, Vranesic, IEEE Trans. CAD 25(11), 2006. Exact local area by reference and
// dereference: Mishchenko, Chatterjee, Brayton, IEEE Trans. CAD 26(2), 2007. The constants in the source file
// are measured, one changed at a time: `EPFL` there means LUTs of K = 4 and K = 6 together over the EPFL
// combinational benchmarks (Amaru, Gaillardon, De Micheli, IWLS 2015), covering alone, without hyp, which alone
// has nearly half of all gates; 151361 LUTs and 6563 levels as it stands.
//
// Tested by tests/logic/cover/priority_cuts_test.cpp.
#pragma once

#include <cstdint>
#include <vector>

#include "logic/graph/graph.hpp"

namespace portweigh::logic {

// Whether small logic is covered in both orders of the depth passes, or only in the first to compare
// structures.
enum class CoveringOrders : std::uint8_t { both, first };

struct CoveringGoal {
  unsigned lut_inputs = 4;    // 3..8
  unsigned extra_levels = 0;  // allowed above the least depth found
  CoveringOrders orders = CoveringOrders::both;
};

// The LUTs in topological order: LUT i computes node nodes[i] from leaves first_leaf[i] .. first_leaf[i+1].
struct Covering {
  std::vector<std::uint32_t> nodes;
  std::vector<std::uint32_t> first_leaf;
  std::vector<std::uint32_t> leaves;
  unsigned levels = 0;
};

Covering cover_graph(const Graph& graph, const CoveringGoal& goal);

}  // namespace portweigh::logic

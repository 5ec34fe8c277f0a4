// Restructuring of a subject graph before covering: the same functions with fewer or shallower gates.
//
//  balanced     trees of ANDs and of XORs rebuilt so that late operands enter last (after Huffman), operand
//               pairs that exist already preferred
//  rewritten    each node over its four-leaf cuts: a smaller structure from a table of all four-input
//  functions
//               replaces it if that saves nodes, counting logic shared with the rest (after Mishchenko,
//               Chatterjee, Brayton, DAC 2006 [M])
//
// None of them makes the graph deeper than it was. All are deterministic.
// Tested by tests/logic/graph/restructure_test.cpp.
#pragma once

#include "logic/graph/graph.hpp"

namespace portweigh::logic {

// Trees of `arity` operands at a time: 2 for the fewest gate levels; K so that each group fills a K-input
// LUT.
Graph balanced(const Graph& graph, unsigned arity = 2);
Graph rewritten(const Graph& graph);

}  // namespace portweigh::logic

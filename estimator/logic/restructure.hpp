// Restructuring of a subject graph before covering: the same functions with fewer or shallower gates.
//
//  balanced     trees of ANDs and of XORs rebuilt so that late operands enter last (after Huffman), operand
//               pairs that exist already preferred
//  rewritten    each node over its four-leaf cuts: a smaller structure from a table of all four-input
//  functions
//               replaces it if that saves nodes, counting logic shared with the rest (after Mishchenko,
//               Chatterjee, Brayton, DAC 2006)
//  resubstituted  each node in a window of at most eight leaves: expressed by one or two other signals
//               of the window where that saves nodes (after Mishchenko, Brayton, IWLS 2006)
//  refactored   cones of up to eight leaves, decomposed afresh
//
// None of them makes the graph deeper than it was. All are deterministic.
// Tested by tests/logic/restructure_test.cpp.
#pragma once

#include "logic/graph.hpp"

namespace portweigh::logic {

Graph balanced(const Graph& graph);
Graph rewritten(const Graph& graph);
Graph resubstituted(const Graph& graph);
Graph refactored(const Graph& graph);

}  // namespace portweigh::logic

// A formula as text, down to the figures that have a name: "leakage + 0.5 * capacitance * supply^2 * clock".
//
// `leaf_text` gives the text of a leaf; it is called for every figure that is_leaf() holds for.
// Tested by tests/figures/ledger/explain_test.cpp and, in messages, tests/figures/ledger/ledger_test.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "figures/ledger/ledger.hpp"
#include "figures/ledger/ledger_store.hpp"

namespace portweigh::figures {

// Inputs, constants and figures with a key stand for themselves in a formula.
[[nodiscard]] bool is_leaf(const LedgerStore& store, std::uint32_t node);

// The formula of one node, whether or not it is a leaf itself.
[[nodiscard]] std::string formula_text(const LedgerStore& store, std::uint32_t node,
                                       const std::function<std::string(std::uint32_t)>& leaf_text);

// The leaves of a node's formula in the order they are written, each once.
[[nodiscard]] std::vector<std::uint32_t> formula_leaves(const LedgerStore& store, std::uint32_t node);

// For messages: the key, or the formula down to keys, cut at 60 characters.
[[nodiscard]] std::string figure_text(const LedgerStore& store, std::uint32_t node);

// A constant as people read it: "0.5", "3.6 us".
[[nodiscard]] std::string constant_text(const LedgerStore& store, std::uint32_t node);

}  // namespace portweigh::figures

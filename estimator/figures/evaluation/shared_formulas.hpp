// The formulas of one or several ledgers as one list of nodes, in which nothing is computed twice.
//
// Options of one study share most of their inputs and many formulas (volumes by year, use of the states,
// effort of a block): a node whose operation and arguments are there already is that node, a node of
// constants is its value, second names vanish. Of the demo's 111 options, 75,000 operations become 24,000.
// Values keep their bits, since the same operations run on the same operands (a + b is b + a).
//
// Worked example: (x + 1) * 2 in one ledger and 2 * (1 + x) in another: one addition, one multiplication.
// Tested by tests/figures/evaluation/shared_formulas_test.cpp.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

struct WantedFigures {
  const Ledger* ledger = nullptr;
  std::vector<Figure> figures;
};

// Whether an input without spread may get another value than its typical one later on.
enum class ExactInputs { may_move, stay };

struct SharedInput {
  std::string key;
  Range range;
};

struct SharedFormulas {
  std::vector<Node> nodes;            // arguments are positions here; `detail` counts in the lists below
  std::vector<SharedInput> inputs;    // all inputs of the ledgers; the first ledger's in their own order
  std::vector<LookupTable> tables;    // each once
  std::vector<std::uint32_t> wanted;  // nodes of the wanted figures, ledger after ledger
};

// Inputs are the same if key and range are.
[[nodiscard]] SharedFormulas share_formulas(std::span<const WantedFigures> wanted, ExactInputs exact_inputs);

}  // namespace portweigh::figures

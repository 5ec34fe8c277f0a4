// From a figure back to its sources: the formula with names, the formula with numbers, and each part in turn.
//
//   active_power = leakage + clock_tree + toggling
//                = 1.2 mW + 3.1 mW + 2.6 mW = 6.9 mW
//     leakage = 1.2 mW (1 mW .. 2 mW)
//       <- catalog/pl-2k.toml:12:1 "typical of 65 nm low-power fabrics"
//     ...
// A figure that several others use is expanded where it is met first and only cited afterwards. Symbols are
// the last part of a key ("leakage" for "parts.pl-2k.leakage"), or the whole key where two keys of one
// formula end alike. Tested word for word by tests/figures/ledger/explain_test.cpp.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::figures {

struct ExplanationLine {
  int depth = 0;               // 0 for the figure asked for
  std::uint32_t node = 0;      // in the ledger
  std::string key;             // "parts.pl-2k.leakage"
  std::string symbol;          // "leakage"
  std::string label;           // "leakage of the fabric"
  std::string formula;         // "leakage + clock_tree + toggling"; empty for inputs
  std::string numbers;         // "1.2 mW + 3.1 mW + 2.6 mW"; empty for inputs
  double value_si = 0.0;       //
  Unit unit;                   // shown to people
  std::string value;           // "6.9 mW"
  std::optional<Range> range;  // inputs only, SI
  Source source;               // inputs only
  bool is_repeated = false;    // expanded at an earlier line
};

struct Explanation {
  std::vector<ExplanationLine> lines;  // depth first, parts in the order of the formula
};

[[nodiscard]] Explanation explain(const Ledger& ledger, Figure figure,
                                  std::span<const Setting> settings = {});

// Plain text, two spaces for each depth, at most `columns` wide where words allow.
[[nodiscard]] std::string to_text(const Explanation& explanation, int columns = 80);

}  // namespace portweigh::figures

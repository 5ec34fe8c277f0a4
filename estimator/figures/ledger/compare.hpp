// Two runs side by side: which input moved, and how far each named figure followed.
//
// Inputs and figures are matched by key. Changes come in the order of the newer ledger, then what only the
// older had. Tested by tests/figures/ledger/compare_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

struct InputChange {
  std::string key;
  std::optional<Range> before;  // none: new in the newer run
  std::optional<Range> after;   // none: gone
  Unit unit;
};

struct FigureChange {
  std::string key;
  std::optional<double> before_si;
  std::optional<double> after_si;
  Unit unit;
};

struct Comparison {
  std::vector<InputChange> inputs;    // only those that differ
  std::vector<FigureChange> figures;  // only those that differ
};

[[nodiscard]] Comparison compare(const Ledger& before, const Ledger& after);

}  // namespace portweigh::figures

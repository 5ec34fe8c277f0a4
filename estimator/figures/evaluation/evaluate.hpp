// One value for each node of a ledger: every input typical unless a setting says otherwise.
//
// For many samples at once see sample_evaluator.hpp; both give the same bits
// (tests/figures/evaluation/sample_evaluator_test.cpp). Tested by tests/figures/evaluation/evaluate_test.cpp.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

// An input moved away from its typical value.
struct Setting {
  std::string key;  // of an input
  double value_si = 0.0;
};

// Values of all inputs in the ledger's input order; typical where no setting is given. LedgerError: unknown
// key.
[[nodiscard]] std::vector<double> input_values(const Ledger& ledger, std::span<const Setting> settings = {});

// The value of every node, given one value for each input.
[[nodiscard]] std::vector<double> evaluate_all(const Ledger& ledger, std::span<const double> input_values);
[[nodiscard]] std::vector<double> evaluate_all(const Ledger& ledger, std::span<const Setting> settings = {});

// The value of one figure, SI.
[[nodiscard]] double evaluate(const Ledger& ledger, Figure figure, std::span<const Setting> settings = {});

// True for each node that one of the figures depends on (the figures included).
[[nodiscard]] std::vector<bool> needed_nodes(const Ledger& ledger, std::span<const Figure> figures);

}  // namespace portweigh::figures

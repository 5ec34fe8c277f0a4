// A ledger as JSON and back, so that a browser can recompute it and two runs can be compared.
//
// Shape: {"format": "portweigh-ledger", "version": 1, "currency": "USD", "tables": [...], "nodes": [...]};
// each node
//   {"op": "input", "value": 0.002, "low": ..., "high": ..., "key": ..., "label": ..., "unit": {...},
//    "source": {"text", "file", "line", "column"}, "correlation": ...}
//   {"op": "add", "args": [0, 1], "value": ..., "key": ..., "label": ..., "unit": {...}}
//   {"op": "power", "args": [0], "exponent": 2}, {"op": "lookup", "args": [4], "table": 0}, {"op":
//   "constant", ...}
// Values are SI and all inputs typical; "unit" has text, factor and offset for display; nodes are in
// topological order. A value that isn't finite (0/0) is null. Doubles are written so that they read back to
// the same bits. Tested by tests/figures/ledger/export_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <stdexcept>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

// JSON that isn't a ledger; what() says which node and why.
class ImportError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

[[nodiscard]] nlohmann::json to_json(const Ledger& ledger);

// Rebuilds every node through the ledger's own checks. Throws ImportError.
[[nodiscard]] Ledger ledger_from_json(const nlohmann::json& json);

}  // namespace portweigh::figures

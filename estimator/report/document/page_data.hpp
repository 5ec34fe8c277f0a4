// What the page needs to recompute itself: the ledgers of the shown options in a compact form.
//
// Ledgers of one study share most inputs, names, units and tables, so these stand once and nodes refer to
// them by number. A node is an array: the operation's number in figures::Operation, then its arguments:
//   [input, input number]  [constant, value, unit number]  [power, a, exponent]  [lookup, a, table number]
//   others: [operation, a, b, c]
// Inputs: {k key, l label, r [low, typical, high], u unit, s [text, place], c correlation}. Values are SI.
// Tested by tests/browser (the page's figures against this program's) and tests/report/document/page_data_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/document/document.hpp"

namespace portweigh::report {

nlohmann::ordered_json page_data(const Document& document);

}  // namespace portweigh::report

// A curve given by points, read by straight lines between them, either in x and y or in log x and log y
// (price breaks: a price falls by about the same share for each doubling of the quantity).
//
//     linear:   y = y0 + (y1 - y0) (x - x0) / (x1 - x0)
//     log_log:  y = y0 (x / x0)^s,  s = ln(y1/y0) / ln(x1/x0)
// Outside the points the end value holds.
//
// Worked example: price 2.50 at 100 and 1.80 at 1000, log_log: 2.13732 at 300.
// Tested by tests/figures/ledger/lookup_table_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "figures/units/dimension.hpp"

namespace portweigh::figures {

enum class Scale { linear, log_log };

struct LookupTable {
  std::vector<double> x;  // SI, strictly increasing; positive if log_log
  std::vector<double> y;  // SI, as many as x; positive if log_log
  Dimension x_dimension;
  Dimension y_dimension;
  Scale scale = Scale::linear;
  std::string label;

  friend bool operator==(const LookupTable&, const LookupTable&) = default;
};

// Throws std::invalid_argument if empty, of unequal lengths, not increasing, not finite, or not positive for
// log_log.
void require_valid(const LookupTable& table);

[[nodiscard]] double value_at(const LookupTable& table, double x);

// For many readings of one table: slopes once, then value_at with them (the same bits as without). A slope is
// dy/dx of a segment, or the exponent s for log_log; one fewer than points.
[[nodiscard]] std::vector<double> segment_slopes(const LookupTable& table);
[[nodiscard]] double value_at(const LookupTable& table, const std::vector<double>& slopes, double x);

}  // namespace portweigh::figures

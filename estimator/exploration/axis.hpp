// A range of one input to explore, as written on the command line: INPUT=FROM:TO[:STEPS[:log]].
//
// FROM and TO are numbers with a unit ("1 MHz", "0.02"); a number without one is SI. STEPS values are spaced
// evenly, or by equal factors with `log`. Example: "clock_rate=1MHz:64MHz:7:log" is 1, 2, 4, ... 64 MHz.
// Tested by tests/exploration/axis_test.cpp.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "figures/units/unit.hpp"

namespace portweigh::exploration {

enum class Spacing { linear, logarithmic };

struct Axis {
  std::string input;
  double from = 0;  // SI
  double to = 0;
  unsigned steps = 11;
  Spacing spacing = Spacing::linear;

  // The value at a share 0..1 of the way.
  double at(double share) const;
  std::vector<double> values() const;
};

// What is wrong with an axis; the verb turns it into bad input.
class AxisError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct KnownInput {
  std::string key;
  figures::Unit unit;
};

// Throws AxisError: unknown input (with the nearest name), wrong unit, a value the input can't take
// (axis_bounds.hpp), empty range, too many steps (1,001 at most) or decades (15 at most).
Axis parse_axis(std::string_view text, const std::vector<KnownInput>& known);

}  // namespace portweigh::exploration

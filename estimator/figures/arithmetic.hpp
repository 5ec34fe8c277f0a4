// What each operation computes, in one place, so that single values and samples give the same bits.
#pragma once

#include <cmath>

#include "figures/elementary.hpp"

namespace portweigh::figures {

[[nodiscard]] inline double smaller(double a, double b) {
  return a < b ? a : b;
}
[[nodiscard]] inline double larger(double a, double b) {
  return a > b ? a : b;
}
[[nodiscard]] inline double test_at_least(double a, double b) {
  return a >= b ? 1.0 : 0.0;
}

// The exponents that formulas use most need no logarithm.
[[nodiscard]] inline double to_power(double base, double exponent) {
  if (exponent == 2.0) return base * base;
  if (exponent == -1.0) return 1.0 / base;
  if (exponent == 0.5) return std::sqrt(base);
  return power_of(base, exponent);
}

}  // namespace portweigh::figures

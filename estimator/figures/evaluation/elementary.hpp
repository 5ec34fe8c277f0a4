// Exponential, logarithm and power in plain arithmetic, so that every processor gives the same bits: the C
// library's own differ in the last bit between processors.
//
//     exp x = 2^k exp r,       k = round(x / ln 2),  |r| <= ln 2 / 2: Taylor series to r^13
//     ln x  = k ln 2 + ln m,   sqrt(1/2) <= m < sqrt 2,  f = m - 1, s = f / (2 + f):
//             ln m = f - (f^2/2 - s (f^2/2 + R)),  R = sum of 2/(2n+1) s^2n, n = 1..11
//     x^y   = exp(y ln x)
// Errors: exp and ln within 1 unit in the last place; x^y within 2^-52 (1 + |y ln x|). Arguments out of the
// ordinary (subnormal, zero, negative, infinite, not a number, results beyond 1e300) go to the C library.
// Sources: Cody & Waite 1980 (reduction of the argument), the series of calculus; the arrangement of ln m
// that keeps its error small is that of the freely distributable C mathematical library (1993). Tested by
// tests/figures/evaluation/elementary_test.cpp.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>

namespace portweigh::figures {

inline bool has_ordinary_exp(double x) {
  return x >= -700.0 && x <= 700.0;
}
inline bool has_ordinary_log(double x) {
  return x >= 1e-300 && x <= 1e300;
}

// Upper part with 32 zero bits at the end, so that its product with a small whole number is exact.
inline constexpr double ln2_upper = 6.93147180369123816490e-01;
inline constexpr double ln2_lower = 1.90821492927058770002e-10;

// Only for has_ordinary_exp(x).
inline double ordinary_exp(double x) {
  constexpr double to_whole = 0x1.8p52;  // a sum with it has no bits behind the point
  constexpr double one_by_ln2 = 1.4426950408889634074;
  const double shifted = x * one_by_ln2 + to_whole;
  const double k = shifted - to_whole;
  const double r = (x - k * ln2_upper) - k * ln2_lower;
  double sum = 1.0 / 6227020800.0;  // 13!
  sum = sum * r + 1.0 / 479001600.0;
  sum = sum * r + 1.0 / 39916800.0;
  sum = sum * r + 1.0 / 3628800.0;
  sum = sum * r + 1.0 / 362880.0;
  sum = sum * r + 1.0 / 40320.0;
  sum = sum * r + 1.0 / 5040.0;
  sum = sum * r + 1.0 / 720.0;
  sum = sum * r + 1.0 / 120.0;
  sum = sum * r + 1.0 / 24.0;
  sum = sum * r + 1.0 / 6.0;
  sum = sum * r + 0.5;
  const double power = 1.0 + (r + r * r * sum);
  const std::uint64_t whole = std::bit_cast<std::uint64_t>(shifted) - std::bit_cast<std::uint64_t>(to_whole);
  return power * std::bit_cast<double>((whole + 1023) << 52);
}

// Only for has_ordinary_log(x).
inline double ordinary_log(double x) {
  constexpr std::uint64_t one = 0x3ff0000000000000;
  constexpr std::uint64_t root_of_half = 0x3fe6a09e667f3bcd;
  constexpr std::uint64_t two_to_52 = 0x4330000000000000;
  const std::uint64_t bits = std::bit_cast<std::uint64_t>(x);
  const std::uint64_t exponent = (bits + (one - root_of_half)) >> 52;  // k + 1023
  const double k = std::bit_cast<double>(exponent | two_to_52) - (0x1p52 + 1023.0);
  const double f = std::bit_cast<double>(bits + one - (exponent << 52)) - 1.0;
  const double s = f / (2.0 + f);
  const double z = s * s;
  double sum = 2.0 / 23.0;
  sum = sum * z + 2.0 / 21.0;
  sum = sum * z + 2.0 / 19.0;
  sum = sum * z + 2.0 / 17.0;
  sum = sum * z + 2.0 / 15.0;
  sum = sum * z + 2.0 / 13.0;
  sum = sum * z + 2.0 / 11.0;
  sum = sum * z + 2.0 / 9.0;
  sum = sum * z + 2.0 / 7.0;
  sum = sum * z + 2.0 / 5.0;
  sum = sum * z + 2.0 / 3.0;
  const double half_square = 0.5 * f * f;
  return k * ln2_upper - ((half_square - (s * (half_square + z * sum) + k * ln2_lower)) - f);
}

inline double exp_of(double x) {
  return has_ordinary_exp(x) ? ordinary_exp(x) : std::exp(x);
}
inline double log_of(double x) {
  return has_ordinary_log(x) ? ordinary_log(x) : std::log(x);
}
inline double power_of(double base, double exponent) {
  if (!has_ordinary_log(base)) return std::pow(base, exponent);
  const double logarithm = exponent * ordinary_log(base);
  return has_ordinary_exp(logarithm) ? ordinary_exp(logarithm) : std::pow(base, exponent);
}

}  // namespace portweigh::figures

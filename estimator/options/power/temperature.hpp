// Leakage and heat: leakage heats the part, and heat makes it leak more.
//
//   I(T) = I(25 degC) 2^((T - 25 degC) / T_double);   T = T_ambient + theta (P_other + V I(T))
// The fixed point is unrolled four times in the ledger: at the powers of port electronics the next step
// changes less than a part in a thousand. Whether it converges at all is checked with the high ends of all
// ranges: the loop gain theta V I(T) ln 2 / T_double must stay below one; otherwise the part would run away
// thermally. Common practice: leakage doubles each 8 to 12 K. Tested by tests/options/power/temperature_test.cpp.
#pragma once

#include <cmath>
#include <numbers>
#include <optional>

#include "figures/ledger/ledger.hpp"

namespace portweigh::options {

inline constexpr double leakage_reference_k = 298.15;  // 25 degC, at which data are given
figures::Figure leakage_reference(figures::Ledger& ledger);

// The factor by which a current exceeds its value at the reference; of doubles or of figures.
template <class Number>
Number leakage_growth(Number temperature_k, Number reference_k, Number doubling_k) {
  using std::exp;
  return exp(std::numbers::ln2 * ((temperature_k - reference_k) / doubling_k));
}

struct LeakageLoop {
  figures::Figure ambient_k;
  figures::Figure thermal_resistance;
  figures::Figure other_w;  // what the part draws beside leakage
  figures::Figure supply_v;
  figures::Figure leakage_a;  // at 25 degC
  figures::Figure doubling_k;
};

// Power lost by leakage at the temperature it settles at.
figures::Figure settled_leakage_w(figures::Ledger& ledger, const LeakageLoop& loop);

struct LeakageValues {
  double ambient_k = 0;
  double thermal_resistance = 0;  // K/W
  double other_w = 0;
  double supply_v = 0;
  double leakage_a = 0;
  double doubling_k = 0;
};

// Junction temperature the loop settles at; none if it runs away (no fixed point below 1000 K).
std::optional<double> settled_temperature_k(const LeakageValues& values);

}  // namespace portweigh::options

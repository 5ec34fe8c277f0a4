// What a microcontroller draws from the rail at one of its core voltages.
//
// Point 0 is full speed: the catalog's own figures, at any clock. Point i is the i-th `operating_point` of
// the catalog, at clocks up to its highest. Currents through a linear regulator are the core's; a switching
// one of efficiency eta draws
//   I_rail = I_core V_core / (eta V_rail) + I_quiescent
// Worked example: 100 uA/MHz at 1.0 V from 3.3 V with 80 %: 37.9 uA/MHz. Tested by
// tests/options/power/operating_point_test.cpp.
#pragma once

#include <cstddef>
#include <optional>

#include "parts/microcontroller.hpp"

namespace portweigh::options {

inline std::size_t points_of(const parts::Microcontroller& part) {
  return 1 + part.operating_points.size();
}

inline bool reaches(const parts::Microcontroller& part, std::size_t point, double clock_hz) {
  constexpr double rounding = 1e-9;
  return point == 0 || clock_hz <= part.operating_points[point - 1].highest_clock.value_si * (1 + rounding);
}

template <class Number>
struct PointCurrents {
  Number run_a_per_hz;
  Number sleep_a_per_hz;
  std::optional<Number> added_a;  // while the clock runs, beside the base currents
};

// `value` makes a number of a value of the catalog: its typical double, or an input of a ledger.
template <class Value>
auto currents_at(const parts::Microcontroller& part, std::size_t point, const parts::SourcedRange& supply_v,
                 const Value& value) {
  using Number = decltype(value(supply_v));
  using Currents = PointCurrents<Number>;
  if (point == 0) {
    return Currents{value(part.run_current_per_clock), value(part.sleep_current_per_clock), {}};
  }
  const parts::OperatingPoint& at = part.operating_points[point - 1];
  Currents currents{value(at.run_current_per_clock), value(at.sleep_current_per_clock), {}};
  if (at.regulator_efficiency) {
    const Number supply = value(supply_v);
    const Number ratio = value(at.voltage) / (supply * value(*at.regulator_efficiency));
    currents.run_a_per_hz = currents.run_a_per_hz * ratio;
    currents.sleep_a_per_hz = currents.sleep_a_per_hz * ratio;
  }
  if (at.regulator_current) currents.added_a = value(*at.regulator_current);
  return currents;
}

}  // namespace portweigh::options

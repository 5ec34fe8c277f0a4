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

#include "options/draft.hpp"
#include "parts/microcontroller.hpp"

namespace portweigh::options {

// Typical values.
struct PointCurrents {
  double run_a_per_hz = 0;
  double sleep_a_per_hz = 0;
  double added_a = 0;  // while the clock runs, beside the base currents
};

std::size_t points_of(const parts::Microcontroller& part);
bool reaches(const parts::Microcontroller& part, std::size_t point, double clock_hz);
PointCurrents currents_at(const parts::Microcontroller& part, std::size_t point, double supply_v);

// The same as figures of the draft's ledger.
struct PointFigures {
  figures::Figure run_a_per_hz;
  figures::Figure sleep_a_per_hz;
  std::optional<figures::Figure> added_a;
};

PointFigures point_figures(Draft& draft, const parts::Microcontroller& part, std::size_t point);

}  // namespace portweigh::options

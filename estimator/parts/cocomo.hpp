// The published effort and schedule model for firmware: COCOMO, basic and intermediate.
//
//   person-months = a KDSI^b x (product of the cost drivers)      drivers only in the intermediate model
//   months        = 2.5 person-months^c                           elapsed time with the team that it implies
//               basic a, b        intermediate a, b     c
//   organic        2.4  1.05           3.2  1.05       0.38      small team, well-known surroundings
//   semi-detached  3.0  1.12           3.0  1.12       0.35
//   embedded       3.6  1.20           2.8  1.20       0.32      tight constraints of hardware and time
// KDSI: thousand delivered source instructions (lines). Worked example: basic, organic, 32 KDSI: 91
// person-months in 14 months. Source: B. W. Boehm, Software Engineering Economics, 1981.
// Tested by tests/options/money/firmware_effort_test.cpp.
#pragma once

#include <string>
#include <vector>

namespace portweigh::parts {

enum class CocomoModel { basic, intermediate };
enum class CocomoMode { organic, semi_detached, embedded };

struct CocomoCoefficients {
  double size_factor = 0;        // a: person-months for 1 KDSI
  double size_exponent = 0;      // b
  double schedule_exponent = 0;  // c
};

CocomoCoefficients cocomo_coefficients(CocomoModel model, CocomoMode mode);

// Months for one person-month of effort.
inline constexpr double cocomo_schedule_factor = 2.5;

struct CocomoDriver {
  std::string name;  // "product_complexity"
  std::string meaning;
  double lowest = 1;  // multipliers of the published table
  double highest = 1;
};

// The fifteen cost drivers of the intermediate model in the order of the published table.
const std::vector<CocomoDriver>& cocomo_drivers();

}  // namespace portweigh::parts

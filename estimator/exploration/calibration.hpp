// Ranges and coefficients of the catalog refitted to what was measured.
//
// A class of block or a core class has n observations x = ln(measured / estimate) and leans on what the
// catalog says with the weight of k = 3 observations, the same rule by which the catalog's own ranges were
// made:
//     M, S   centre and deviation of the catalog's range: M = ln typical, or (ln low + ln high) / 2 where it
//            has no typical factor; S = (ln high - ln low) / (2 x 1.645)
//     m = (sum x + k M) / (n + k),   s^2 = (sum (x - m)^2 + k S^2) / (n + k)
//     nine in ten: exp(m - 1.645 s) .. exp(m + 1.645 s), at least 5 % to both sides
// The estimate of LUTs stays what the network's cover has; its range moves. A core's typical factor is
// exp(m). A coefficient is solved for: the value at which the option's figure is what the bench showed.
// Worked example: catalog 0.8..1.25 (M = 0, S = 0.13565), one block measured at 1.2 times its estimate:
// m = 0.04558, s = 0.13592, so 0.837..1.309, before rounding outwards.
// Source of k and of the rule: docs/validation.md; 1.645: 95 % point of the normal distribution.
// Tested by tests/exploration/calibration_test.cpp.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "exploration/measured_file.hpp"
#include "options/context.hpp"

namespace portweigh::exploration {

struct FittedRange {
  double low = 1.0;
  double centre = 1.0;
  double high = 1.0;
};

// `logarithms` of measured by estimate; `before` is the range to lean on.
FittedRange lean_on(std::span<const double> logarithms, const FittedRange& before);

struct Observation {
  std::string what;  // block and settings, or method
  double estimate = 0;
  double measured = 0;
  bool is_inside = false;  // of the range before
};

// A class of block (LUTs) or a core class (cycles or code bytes).
struct ClassFit {
  std::string name;
  std::string counted;  // "LUTs", "cycles", "code bytes"
  std::vector<Observation> observations;
  FittedRange before;
  FittedRange after;
  figures::Source place;  // of the range in the catalog
};

struct CoefficientFit {
  MeasuredFigure measured;
  double figure_before = 0;      // SI, with all inputs typical
  double input_before = 0;       // SI
  figures::Range input_range;    // SI, of the catalog or study
  std::optional<double> fitted;  // SI; none where no value of the input gives the measured figure
  figures::Unit input_unit;
  figures::Source place;
};

struct Calibration {
  std::vector<ClassFit> classes;
  std::vector<CoefficientFit> coefficients;
};

// Throws reading::InputError for a method, option or input that doesn't exist.
Calibration calibrate(const Measured& measured, const parts::Catalog& catalog, const parts::Effort& effort,
                      options::BlockLibrary& library, unsigned threads);

}  // namespace portweigh::exploration

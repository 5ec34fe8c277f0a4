// Ranges and coefficients of the catalog refitted to what was measured.
//
// A class of block or a core class has n observations x = ln(measured / estimate) and leans on what the
// catalog says with the weight of k = 3 observations:
//     q(n) = 1.645 sqrt(1 + 1 / (n + k))     what one more design needs
//     M, S   centre and deviation of the catalog's range: M = ln typical, or (ln low + ln high) / 2 where it
//            has no typical factor; S = (ln high - ln low) / (2 q(0))
//     m = (sum x + k M) / (n + k),   s^2 = (sum (x - m)^2 + k S^2) / (n + k)
//     nine in ten: exp(m - q(n) s) .. exp(m + q(n) s), at least 5 % to both sides
// This is the rule by which the catalog's ranges of LUTs were made (docs/validation.md), with the catalog's
// range in place of the pool of cores; the pool itself is not in the catalog, so Student's distribution
// becomes the normal one (its 95 % point is 1.645) and the low end is not tied to the pool's. Ranges of core
// classes in the catalog are quantiles of hundreds of rows (docs/validation-firmware.md); few observations
// can only lean on them by this rule. The estimate of LUTs stays what the network's cover has; its range
// moves. A core's typical factor is exp(m). A coefficient is solved for: the value at which the option's
// figure is what the bench showed. Worked example: catalog 0.8..1.25 (M = 0, S = 0.11748), one block measured
// at 1.2 times its estimate: m = 0.04558, s = 0.12258, so 0.835..1.311, before rounding outwards. Tested by
// tests/exploration/calibration_test.cpp.
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

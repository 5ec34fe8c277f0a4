#pragma once

#include <string>
#include <vector>

#include "firmware/core.hpp"

// Model against real compiled code: every twin measured with a real compiler (tests/reference/twins) and
// every row of the table of published code whose text evidently is the same (tests/reference/measured).
namespace portweigh::firmware {

struct ComparedRow {
  std::string routine;
  std::string built_for;  // "size" or "speed"
  double measured_cycles = 0;
  double measured_bytes = 0;
  double model_cycles = 0;  // before the compiler factor
  double model_bytes = 0;
};

// C twins of the routines on a core class measured there: 8-bit-two-stage, 32-bit-two-stage,
// 32-bit-sequential.
std::vector<ComparedRow> compare_twins(const Core& core);

// Published code: rows whose routine's twin, built for size, takes within 12 % of the cycles measured on the
// 8-bit two-stage and the 32-bit two-stage class. The choice does not look at the model.
std::vector<ComparedRow> compare_published(const Core& core);

double median(std::vector<double> values);
// Value below which the share `part` of the values lies.
double quantile(std::vector<double> values, double part);

}  // namespace portweigh::firmware

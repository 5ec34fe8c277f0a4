// Model against real compiled code: every twin measured with a real compiler (tests/reference/twins) and
// every routine of ours that has a row in the independently measured table (tests/reference/measured).
#pragma once

#include <string>
#include <vector>

#include "firmware/core.hpp"

namespace portweigh::firmware {

struct ComparedRow {
  std::string routine;
  std::string built_for;  // "size" or "speed"
  double measured_cycles = 0;
  double measured_bytes = 0;
  double model_cycles = 0;  // before the compiler factor
  double model_bytes = 0;
};

// A row measured independently of this project, beside the twin of our routine of that name.
struct IndependentRow : ComparedRow {
  double twin_cycles = 0;
  bool is_same_text = false;  // the twin, built for size, takes within 12 % on both two-stage classes
};

// C twins of the routines on a core class measured there: 8-bit-two-stage, 32-bit-two-stage,
// 32-bit-sequential.
std::vector<ComparedRow> compare_twins(const Core& core);

// All rows of the independently measured table (without interrupt frame) whose routine is one of ours.
std::vector<IndependentRow> compare_independent(const Core& core);

double median(std::vector<double> values);
// Value below which the share `part` of the values lies.
double quantile(std::vector<double> values, double part);

}  // namespace portweigh::firmware

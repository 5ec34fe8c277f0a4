// One- and two-way sweeps: a figure of every option, its feasibility, and who leads, over a grid of inputs.
//
// Inputs that change what is built (structure.hpp) are re-run for each value; the others only move numbers.
// Tested by tests/exploration/sweep_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "exploration/axis.hpp"
#include "options/context.hpp"

namespace portweigh::exploration {

struct SweptOption {
  std::optional<double> value;  // SI; none where the option can't be built
  bool is_feasible = false;
};

struct SweepPoint {
  std::vector<double> inputs;         // in the order of the axes
  std::vector<SweptOption> options;   // in the order of Sweep::options
  std::optional<std::size_t> leader;  // index in Sweep::options
};

struct Sweep {
  std::vector<Axis> axes;
  std::string figure;
  std::vector<std::string> options;  // ids, in the order of the candidates
  std::vector<SweepPoint> points;    // the last axis runs fastest
};

// `only`: ids of the options that take part; empty: all. Throws AxisError for a value that a structural input
// can't have.
Sweep sweep(const options::Context& context, const std::vector<Axis>& axes, const std::string& figure,
            unsigned threads, const std::vector<std::string>& only = {});

}  // namespace portweigh::exploration

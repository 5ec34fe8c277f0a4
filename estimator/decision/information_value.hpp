// What it is worth to know an input exactly before choosing: which data sheet or measurement to get first.
//
//   value of x = E over x [ max over options E(worth | x) ]  -  max over options E(worth)
// (expected value of partial perfect information; Raiffa & Schlaifer 1961 [M]). It is zero for an input that
// never changes the choice, however much it moves the figures. Estimated from samples: sorted by x and cut
// into bins, each bin's choice is made from one half of its samples and valued on the other, both ways round,
// so that a lucky half can't pretend a value; what falls below zero is zero. Example: worth x or 0, x
// triangular (-1, 0, 1): the value of x is 1/6. Tested by tests/decision/information_value_test.cpp.
#pragma once

#include <Eigen/Core>
#include <span>
#include <string>
#include <vector>

#include "figures/evaluation/sampling.hpp"

namespace portweigh::decision {

struct InformationValue {
  figures::Coordinate input;  // or a correlation group: knowing one input of it is knowing all
  double value = 0;           // in units of worth
};

struct Information {
  double expected_worth = 0;             // of the best choice as things stand
  double everything = 0;                 // value of knowing all inputs
  std::vector<InformationValue> inputs;  // largest value first, zeros left out
};

// `worth`: samples x options; `input`: one value for each sample. At least 64 samples.
double value_of_knowing(const Eigen::ArrayXXd& worth, std::span<const double> input);

// The same for any number of threads.
Information information_values(const Eigen::ArrayXXd& worth, const figures::SampleTable& table,
                               unsigned threads);

}  // namespace portweigh::decision

// Variance-based sensitivity: which uncertain inputs drive a figure, alone and together with others.
//
//   first index  S_i  = mean(f(B) (f(A_B^i) - f(A))) / V     Saltelli et al., Comput. Phys. Commun. 181, 2010
//   [M] total index  ST_i = mean((f(A) - f(A_B^i))^2) / (2 V)    Jansen, Comput. Phys. Commun. 117, 1999 [M]
// A and B are the two halves of one Sobol sequence of twice the dimension; A_B^i is A with coordinate i from
// B. The intervals are 95 % bootstrap intervals. Example: Ishigami (a = 7, b = 0.1): S .3139 .4424 0, ST
// .5576 .4424 .2437. Tested by tests/exploration/variance_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::exploration {

struct Index {
  double value = 0;
  double low = 0;  // 95 % interval
  double high = 0;
};

struct Indices {
  double mean = 0;
  double variance = 0;
  std::vector<Index> first;
  std::vector<Index> total;
};

// A function of points in the unit cube (rows), one value for each row.
using UnitFunction = std::function<Eigen::ArrayXd(const Eigen::ArrayXXd&)>;

// `samples` must be a power of two for the quasi-random rate; costs samples x (dimensions + 2) evaluations.
Indices variance_indices(const UnitFunction& function, Eigen::Index dimensions, Eigen::Index samples,
                         std::uint64_t seed);

struct Driver {
  std::string coordinate;           // input key, or correlation group
  std::vector<std::string> inputs;  // that move with it
  Index first;
  Index total;
};

struct FigureDrivers {
  double mean = 0;
  double variance = 0;
  std::vector<Driver> drivers;  // largest total first
};

// The uncertain inputs that a figure depends on, by their indices. Inputs of one correlation group count as
// one.
FigureDrivers figure_drivers(const figures::Ledger& ledger, figures::Figure figure, Eigen::Index samples,
                             std::uint64_t seed);

}  // namespace portweigh::exploration

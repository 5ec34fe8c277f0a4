// Quasi-random samples of uncertain inputs: Sobol points through triangular ranges.
//
//   u = Sobol point, digitally shifted by the seed;   x = F^-1(u) of the triangular distribution (low,
//   typical, high)
// Inputs of one correlation group share one coordinate, so that they move together; inputs without spread are
// constant and take no coordinate. Coordinates are given out in the order of the sorted names, the smoothest
// first, so that the table depends only on the set of inputs, not on the order in which options were built.
// Example: triangular (2, 4, 12): mean 6, variance 4.6667.
// Source of the points: Sobol 1967 with the direction numbers of Joe & Kuo 2008 (Boost.Random).
// Tested by tests/figures/sampling_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "figures/ledger.hpp"

namespace portweigh::figures {

// Inverse of the distribution function of the triangular distribution; u in 0..1.
[[nodiscard]] double triangular_quantile(const Range& range, double u);

// `dimensions` columns of `count` points in (0, 1), column by column. At most 3667 dimensions
// (std::length_error).
[[nodiscard]] Eigen::ArrayXXd sobol_points(Eigen::Index count, Eigen::Index dimensions, std::uint64_t seed);

class SampleTable {
 public:
  // All inputs of all ledgers; the same key must have the same range everywhere (LedgerError).
  SampleTable(std::span<const Ledger* const> ledgers, Eigen::Index count, std::uint64_t seed);

  [[nodiscard]] Eigen::Index count() const { return count_; }
  [[nodiscard]] Eigen::Index dimensions() const { return dimensions_; }
  // Null for an input without spread.
  [[nodiscard]] const double* column(std::string_view key) const;
  // One pointer for each input of the ledger, as SampleEvaluator takes them.
  [[nodiscard]] std::vector<const double*> columns_for(const Ledger& ledger) const;

 private:
  Eigen::Index count_ = 0;
  Eigen::Index dimensions_ = 0;
  std::map<std::string, std::vector<double>, std::less<>> columns_;
};

}  // namespace portweigh::figures

// Quasi-random samples of uncertain inputs: Sobol points through triangular ranges.
//
//   u = Sobol point, digitally shifted by the seed;   x = F^-1(u) of the triangular distribution (low,
//   typical, high)
// Inputs of one correlation group share one coordinate, so that they move together; inputs without spread are
// constant and take no coordinate. Coordinates are given out in the order of the sorted names, the smoothest
// first, so that the table depends only on the set of inputs, not on the order in which options were built.
// Example: triangular (2, 4, 12): mean 6, variance 4.6667.
// Source of the points: Sobol 1967 with the direction numbers of Joe & Kuo 2008 (Boost.Random), of which only
// as many points are drawn as are needed to know the directions: the point of Gray code g is the exclusive or
// of the directions of its bits (Antonov & Saleev 1979), so that columns are made one by one, by any thread.
// Tested by tests/figures/evaluation/sampling_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

// Inverse of the distribution function of the triangular distribution; u in 0..1.
[[nodiscard]] double triangular_quantile(const Range& range, double u);

// `dimensions` columns of `count` points in (0, 1), column by column. The directions are known for 3667
// dimensions; columns behind them are pseudo-random (Mersenne Twister), as in a plain Monte Carlo method.
[[nodiscard]] Eigen::ArrayXXd sobol_points(Eigen::Index count, Eigen::Index dimensions, std::uint64_t seed);

class SobolColumns;

// What is sampled as one: an input on its own, or the inputs of one correlation group.
struct Coordinate {
  std::string name;                 // of the input or the group
  std::vector<std::string> inputs;  // keys, sorted
};

class SampleTable {
 public:
  // All inputs of all ledgers; the same key must be in the same correlation group everywhere (LedgerError).
  // Holds `held` of the `count` samples at a time (0: all), the first ones to begin with.
  SampleTable(std::span<const Ledger* const> ledgers, Eigen::Index count, std::uint64_t seed,
              unsigned threads = 1, Eigen::Index held = 0);

  // Holds the samples from `first` on instead. The same for any number of threads.
  void move_to(Eigen::Index first);

  [[nodiscard]] Eigen::Index count() const { return rows_; }  // of the samples that are held
  [[nodiscard]] Eigen::Index dimensions() const { return static_cast<Eigen::Index>(coordinates_.size()); }
  [[nodiscard]] const std::vector<Coordinate>& coordinates() const { return coordinates_; }
  // Null for an input without spread.
  [[nodiscard]] const double* column(std::string_view key) const;

 private:
  struct Column {
    Range range;
    std::vector<double> values;
  };

  Eigen::Index count_ = 0;
  Eigen::Index held_ = 0;
  Eigen::Index rows_ = 0;
  unsigned threads_ = 1;
  std::shared_ptr<const SobolColumns> points_;
  std::vector<Coordinate> coordinates_;
  std::map<std::string, Column, std::less<>> columns_;
};

}  // namespace portweigh::figures

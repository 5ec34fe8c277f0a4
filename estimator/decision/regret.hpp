// How much a choice may cost: the worth of each option over the samples, and what is missed with it.
//
//   regret of option i in sample s = (largest worth of any option in s) - (worth of i in s)
// The expected choice has the largest mean worth; the robust choice has the least largest regret (Savage, J.
// Am. Stat. Assoc. 46, 1951 [M]): whatever the inputs turn out to be, no other option would have been better
// by more. Example: worths (1, 0) and (0.4, 0.5) in two samples: means 0.5 and 0.45, largest regrets 0.5 and
// 0.6. Tested by tests/decision/regret_test.cpp.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

namespace portweigh::decision {

struct Regret {
  double expected_worth = 0;
  double mean = 0;
  double largest = 0;
};

// Samples may come in several parts; what is kept doesn't grow with them.
class RegretSums {
 public:
  explicit RegretSums(std::size_t options) : sums_(options) {}

  void add(const Eigen::ArrayXXd& worth);            // samples x options
  [[nodiscard]] std::vector<Regret> result() const;  // one for each option

 private:
  Eigen::Index samples_ = 0;
  std::vector<Regret> sums_;
};

// Ties: the smaller mean regret, then the earlier option. None where there are no options.
std::optional<std::size_t> robust_choice(const std::vector<Regret>& regrets);
std::optional<std::size_t> expected_choice(const std::vector<Regret>& regrets);

}  // namespace portweigh::decision

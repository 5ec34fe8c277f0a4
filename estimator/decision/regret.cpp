#include "decision/regret.hpp"

#include <algorithm>
#include <tuple>

namespace portweigh::decision {

void RegretSums::add(const Eigen::ArrayXXd& worth) {
  if (worth.size() == 0) return;
  const Eigen::ArrayXd best = worth.rowwise().maxCoeff();
  for (Eigen::Index i = 0; i < worth.cols(); ++i) {
    const Eigen::ArrayXd missed = best - worth.col(i);
    Regret& sum = sums_[static_cast<std::size_t>(i)];
    sum.expected_worth += worth.col(i).sum();
    sum.mean += missed.sum();
    sum.largest = std::max(sum.largest, missed.maxCoeff());
  }
  samples_ += worth.rows();
}

std::vector<Regret> RegretSums::result() const {
  std::vector<Regret> regrets = sums_;
  const auto count = static_cast<double>(std::max<Eigen::Index>(samples_, 1));
  for (Regret& regret : regrets) {
    regret.expected_worth /= count;
    regret.mean /= count;
  }
  return regrets;
}

std::optional<std::size_t> robust_choice(const std::vector<Regret>& regrets) {
  const auto least = std::min_element(regrets.begin(), regrets.end(), [](const Regret& a, const Regret& b) {
    return std::tie(a.largest, a.mean) < std::tie(b.largest, b.mean);
  });
  if (least == regrets.end()) return std::nullopt;
  return static_cast<std::size_t>(least - regrets.begin());
}

std::optional<std::size_t> expected_choice(const std::vector<Regret>& regrets) {
  const auto best = std::max_element(regrets.begin(), regrets.end(), [](const Regret& a, const Regret& b) {
    return a.expected_worth < b.expected_worth;
  });
  if (best == regrets.end()) return std::nullopt;
  return static_cast<std::size_t>(best - regrets.begin());
}

}  // namespace portweigh::decision

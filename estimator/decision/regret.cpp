#include "decision/regret.hpp"

#include <algorithm>
#include <tuple>

namespace portweigh::decision {

std::vector<Regret> regrets_of(const Eigen::ArrayXXd& worth) {
  std::vector<Regret> regrets(static_cast<std::size_t>(worth.cols()));
  if (worth.size() == 0) return regrets;
  const Eigen::ArrayXd best = worth.rowwise().maxCoeff();
  for (Eigen::Index i = 0; i < worth.cols(); ++i) {
    const Eigen::ArrayXd missed = best - worth.col(i);
    regrets[static_cast<std::size_t>(i)] = {worth.col(i).mean(), missed.mean(), missed.maxCoeff()};
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

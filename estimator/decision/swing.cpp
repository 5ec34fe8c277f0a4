#include "decision/swing.hpp"

#include <algorithm>

#include "decision/acceptability.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/limits.hpp"

namespace portweigh::decision {
namespace {

// Of the margins to budget number `budget`, from the worst option to the best.
double width_of(std::size_t budget, const study::Study& study, const std::vector<options::Option>& options) {
  double lowest = 1;
  double highest = -1;
  for (const options::Option& option : options) {
    const options::Limit limit = options::limits_of(option, study)[budget];
    const auto figure = option.ledger.find(limit.figure);
    if (!figure) continue;
    const double margin = options::margin_of(limit, figures::evaluate(option.ledger, *figure));
    lowest = std::min(lowest, margin);
    highest = std::max(highest, margin);
  }
  return std::max(0.0, highest - lowest);
}

}  // namespace

study::Study with_swing_weights(study::Study study, const std::vector<options::Option>& options) {
  std::vector<double> points;
  std::vector<double> widths;
  for (std::size_t i = 0; i < study.budgets.size(); ++i) {
    if (!study.budgets[i].swing) return study;
    points.push_back(*study.budgets[i].swing);
    widths.push_back(width_of(i, study, options));
  }
  const Eigen::ArrayXd weights = swing_weights(points, widths);
  for (std::size_t i = 0; i < study.budgets.size(); ++i) {
    study.budgets[i].weight =
        weights(static_cast<Eigen::Index>(i)) * static_cast<double>(study.budgets.size());
  }
  return study;
}

}  // namespace portweigh::decision

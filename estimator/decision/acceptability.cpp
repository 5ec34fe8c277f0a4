#include "decision/acceptability.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "figures/sampling.hpp"

namespace portweigh::decision {

Eigen::ArrayXXd simplex_weights(Eigen::Index count, Eigen::Index criteria, std::uint64_t seed) {
  Eigen::ArrayXXd weights = Eigen::ArrayXXd::Ones(count, criteria);
  if (criteria < 2) return weights;
  const Eigen::ArrayXXd points = figures::sobol_points(count, criteria - 1, seed);
  std::vector<double> cuts(static_cast<std::size_t>(criteria) + 1);
  for (Eigen::Index row = 0; row < count; ++row) {
    cuts.front() = 0;
    for (Eigen::Index c = 0; c + 1 < criteria; ++c) cuts[static_cast<std::size_t>(c) + 1] = points(row, c);
    cuts.back() = 1;
    std::sort(cuts.begin(), cuts.end());
    for (Eigen::Index c = 0; c < criteria; ++c) {
      weights(row, c) = cuts[static_cast<std::size_t>(c) + 1] - cuts[static_cast<std::size_t>(c)];
    }
  }
  return weights;
}

Acceptability rank_acceptability(const Eigen::ArrayXXd& values, Eigen::Index draws, std::uint64_t seed) {
  const Eigen::Index alternatives = values.rows();
  Acceptability result{Eigen::ArrayXXd::Zero(alternatives, alternatives), {}};
  result.central_weights.resize(static_cast<std::size_t>(alternatives));
  if (alternatives == 0) return result;
  const Eigen::ArrayXXd weights = simplex_weights(draws, values.cols(), seed);
  const Eigen::ArrayXXd scores =
      (weights.matrix() * values.matrix().transpose()).array();  // draws x alternatives
  std::vector<Eigen::Index> order(static_cast<std::size_t>(alternatives));
  Eigen::ArrayXXd first_weights = Eigen::ArrayXXd::Zero(alternatives, values.cols());
  for (Eigen::Index draw = 0; draw < draws; ++draw) {
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(),
                     [&](Eigen::Index a, Eigen::Index b) { return scores(draw, a) > scores(draw, b); });
    for (std::size_t rank = 0; rank < order.size(); ++rank) {
      result.rank_shares(order[rank], static_cast<Eigen::Index>(rank)) += 1;
    }
    first_weights.row(order.front()) += weights.row(draw);
  }
  for (Eigen::Index i = 0; i < alternatives; ++i) {
    const double firsts = result.rank_shares(i, 0);
    if (firsts > 0) {
      result.central_weights[static_cast<std::size_t>(i)] = first_weights.row(i).transpose() / firsts;
    }
  }
  result.rank_shares /= static_cast<double>(draws);
  return result;
}

Eigen::ArrayXd topsis(const Eigen::ArrayXXd& values, const Eigen::ArrayXd& weights,
                      const std::vector<bool>& larger_is_better) {
  if (weights.size() != values.cols() ||
      static_cast<Eigen::Index>(larger_is_better.size()) != values.cols()) {
    throw std::logic_error("one weight and one direction are needed for each criterion");
  }
  Eigen::ArrayXXd scaled = values;
  for (Eigen::Index c = 0; c < values.cols(); ++c) {
    const double length = values.col(c).matrix().norm();
    scaled.col(c) *= length == 0 ? 0 : weights(c) / length;
    if (!larger_is_better[static_cast<std::size_t>(c)]) scaled.col(c) = -scaled.col(c);
  }
  const Eigen::Array<double, 1, Eigen::Dynamic> best = scaled.colwise().maxCoeff();
  const Eigen::Array<double, 1, Eigen::Dynamic> worst = scaled.colwise().minCoeff();
  Eigen::ArrayXd closeness(values.rows());
  for (Eigen::Index i = 0; i < values.rows(); ++i) {
    const double to_best = (scaled.row(i) - best).matrix().norm();
    const double to_worst = (scaled.row(i) - worst).matrix().norm();
    closeness(i) = to_best + to_worst == 0 ? 1 : to_worst / (to_best + to_worst);
  }
  return closeness;
}

Eigen::ArrayXd rank_order_centroid(Eigen::Index criteria) {
  Eigen::ArrayXd weights = Eigen::ArrayXd::Zero(criteria);
  for (Eigen::Index k = 0; k < criteria; ++k) {
    for (Eigen::Index i = k; i < criteria; ++i) weights(k) += 1.0 / static_cast<double>(i + 1);
  }
  return weights / static_cast<double>(criteria);
}

Eigen::ArrayXd swing_weights(const std::vector<double>& points) {
  const Eigen::ArrayXd given =
      Eigen::Map<const Eigen::ArrayXd>(points.data(), static_cast<Eigen::Index>(points.size()));
  return given / given.sum();
}

}  // namespace portweigh::decision

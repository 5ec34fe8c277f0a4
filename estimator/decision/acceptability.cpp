#include "decision/acceptability.hpp"

#include <algorithm>
#include <numeric>
#include <random>
#include <stdexcept>
#include <utility>

#include "figures/evaluation/parallel.hpp"
#include "figures/evaluation/sampling.hpp"

namespace portweigh::decision {
namespace {

constexpr Eigen::Index block_draws = 256;

// Counts of a block of draws; blocks are added up in their order.
struct Counts {
  Eigen::ArrayXXd ranks;          // alternatives x ranks
  Eigen::ArrayXXd first_weights;  // alternatives x criteria
};

double value_at(const Alternative& alternative, Eigen::Index draw, const Eigen::ArrayXXd& weights) {
  const Eigen::Index row = alternative.values.rows() == 1 ? 0 : draw;
  double score = 0;
  for (Eigen::Index c = 0; c < weights.cols(); ++c) score += weights(draw, c) * alternative.values(row, c);
  return score;
}

Counts count_block(const std::vector<Alternative>& alternatives, const Eigen::ArrayXXd& weights,
                   Eigen::Index first) {
  const auto size = static_cast<Eigen::Index>(alternatives.size());
  Counts counts{Eigen::ArrayXXd::Zero(size, size), Eigen::ArrayXXd::Zero(size, weights.cols())};
  std::vector<std::pair<double, Eigen::Index>>
      order;  // minus score, so that ties leave the earlier one first
  for (Eigen::Index draw = first; draw < std::min(first + block_draws, weights.rows()); ++draw) {
    order.clear();
    for (Eigen::Index i = 0; i < size; ++i) {
      const Alternative& alternative = alternatives[static_cast<std::size_t>(i)];
      if (alternative.is_possible.size() > 0 && alternative.is_possible(draw) == 0) continue;
      order.emplace_back(-value_at(alternative, draw, weights), i);
    }
    if (order.empty()) continue;
    std::sort(order.begin(), order.end());
    for (std::size_t rank = 0; rank < order.size(); ++rank) {
      counts.ranks(order[rank].second, static_cast<Eigen::Index>(rank)) += 1;
    }
    counts.first_weights.row(order.front().second) += weights.row(draw);
  }
  return counts;
}

}  // namespace

Eigen::ArrayXXd simplex_weights(Eigen::Index count, Eigen::Index criteria, std::uint64_t seed) {
  Eigen::ArrayXXd weights = Eigen::ArrayXXd::Ones(count, criteria);
  if (criteria < 2) return weights;
  const Eigen::ArrayXXd points = figures::sobol_points(count, criteria - 1, seed);
  std::vector<Eigen::Index> rows(static_cast<std::size_t>(count));
  std::iota(rows.begin(), rows.end(), 0);
  std::mt19937_64 random(seed);
  for (std::size_t i = rows.size(); i > 1; --i) std::swap(rows[i - 1], rows[random() % i]);
  std::vector<double> cuts(static_cast<std::size_t>(criteria) + 1);
  for (Eigen::Index row = 0; row < count; ++row) {
    cuts.front() = 0;
    for (Eigen::Index c = 0; c + 1 < criteria; ++c) cuts[static_cast<std::size_t>(c) + 1] = points(row, c);
    cuts.back() = 1;
    std::sort(cuts.begin(), cuts.end());
    for (Eigen::Index c = 0; c < criteria; ++c) {
      weights(rows[static_cast<std::size_t>(row)], c) =
          cuts[static_cast<std::size_t>(c) + 1] - cuts[static_cast<std::size_t>(c)];
    }
  }
  return weights;
}

RankCounts::RankCounts(std::size_t alternatives, std::size_t criteria) {
  const auto size = static_cast<Eigen::Index>(alternatives);
  ranks_ = Eigen::ArrayXXd::Zero(size, size);
  first_weights_ = Eigen::ArrayXXd::Zero(size, static_cast<Eigen::Index>(criteria));
}

void RankCounts::add(const std::vector<Alternative>& alternatives, const Eigen::ArrayXXd& weights,
                     unsigned threads) {
  const auto blocks = static_cast<std::size_t>((weights.rows() + block_draws - 1) / block_draws);
  std::vector<Counts> counted(blocks);
  figures::for_each_index(blocks, threads, [&](std::size_t block) {
    counted[block] = count_block(alternatives, weights, static_cast<Eigen::Index>(block) * block_draws);
  });
  for (const Counts& counts : counted) {
    ranks_ += counts.ranks;
    first_weights_ += counts.first_weights;
  }
  draws_ += weights.rows();
}

Acceptability RankCounts::result() const {
  Acceptability result{ranks_ / static_cast<double>(std::max<Eigen::Index>(draws_, 1)), {}};
  for (Eigen::Index i = 0; i < ranks_.rows(); ++i) {
    result.central_weights.emplace_back();
    if (const double firsts = ranks_(i, 0); firsts > 0) {
      result.central_weights.back() = first_weights_.row(i).transpose() / firsts;
    }
  }
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

Eigen::ArrayXd swing_weights(const std::vector<double>& points, const std::vector<double>& widths) {
  Eigen::ArrayXd weights = Eigen::ArrayXd::Zero(static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (widths[i] > 0) weights(static_cast<Eigen::Index>(i)) = points[i] / widths[i];
  }
  const double sum = weights.sum();
  return sum > 0 ? Eigen::ArrayXd(weights / sum) : weights;
}

}  // namespace portweigh::decision

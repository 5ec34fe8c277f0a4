#include "exploration/variance.hpp"

#include <algorithm>
#include <map>
#include <random>

#include "figures/evaluation/sample_evaluator.hpp"
#include "figures/evaluation/sampling.hpp"

namespace portweigh::exploration {
namespace {

constexpr int bootstrap_rounds = 200;

// The 95 % interval of the mean of `terms` divided by `scale`, by resampling.
Index estimate(const Eigen::ArrayXd& terms, double scale, std::uint64_t seed) {
  Index index;
  index.value = scale == 0 ? 0 : terms.mean() / scale;
  std::mt19937_64 random(seed);
  const Eigen::Index count = terms.size();
  // Blocks keep the cost of resampling small: the mean of a block is as good as its members.
  constexpr Eigen::Index blocks = 128;
  const Eigen::Index width = std::max<Eigen::Index>(1, count / blocks);
  std::vector<double> means;
  for (Eigen::Index first = 0; first + width <= count; first += width)
    means.push_back(terms.segment(first, width).mean());
  std::vector<double> rounds;
  for (int round = 0; round < bootstrap_rounds; ++round) {
    double sum = 0;
    for (std::size_t i = 0; i < means.size(); ++i) sum += means[random() % means.size()];
    rounds.push_back(scale == 0 ? 0 : sum / static_cast<double>(means.size()) / scale);
  }
  std::sort(rounds.begin(), rounds.end());
  index.low = rounds[static_cast<std::size_t>(0.025 * bootstrap_rounds)];
  index.high = rounds[static_cast<std::size_t>(0.975 * bootstrap_rounds)];
  return index;
}

}  // namespace

Indices variance_indices(const UnitFunction& function, Eigen::Index dimensions, Eigen::Index samples,
                         std::uint64_t seed) {
  const Eigen::ArrayXXd points = figures::sobol_points(samples, 2 * dimensions, seed);
  const Eigen::ArrayXXd a = points.leftCols(dimensions);
  const Eigen::ArrayXXd b = points.rightCols(dimensions);
  const Eigen::ArrayXd at_a = function(a);
  const Eigen::ArrayXd at_b = function(b);
  Indices indices;
  indices.mean = 0.5 * (at_a.mean() + at_b.mean());
  indices.variance = 0.5 * ((at_a - indices.mean).square().mean() + (at_b - indices.mean).square().mean());
  // Centred values have the same indices with less sampling error.
  const Eigen::ArrayXd centred_b = at_b - indices.mean;
  Eigen::ArrayXXd mixed = a;
  for (Eigen::Index i = 0; i < dimensions; ++i) {
    mixed.col(i) = b.col(i);
    const Eigen::ArrayXd at_mixed = function(mixed);
    mixed.col(i) = a.col(i);
    const auto seed_i = seed + static_cast<std::uint64_t>(i) + 1;
    indices.first.push_back(estimate(centred_b * (at_mixed - at_a), indices.variance, seed_i));
    indices.total.push_back(estimate(0.5 * (at_a - at_mixed).square(), indices.variance, seed_i));
  }
  return indices;
}

FigureDrivers figure_drivers(const figures::Ledger& ledger, figures::Figure figure, Eigen::Index samples,
                             std::uint64_t seed) {
  const figures::SampleEvaluator evaluator(ledger, {figure});
  std::map<std::string, std::vector<std::size_t>> coordinates;
  for (const std::uint32_t used : evaluator.used_inputs()) {
    const figures::Input& input = ledger.inputs()[used];
    if (input.range.low < input.range.high) {
      coordinates[input.correlation.empty() ? input.key : input.correlation].push_back(used);
    }
  }
  const std::vector<std::pair<std::string, std::vector<std::size_t>>> ordered(coordinates.begin(),
                                                                              coordinates.end());
  const UnitFunction function = [&](const Eigen::ArrayXXd& points) {
    std::vector<std::vector<double>> values(ledger.inputs().size());
    std::vector<const double*> columns(ledger.inputs().size(), nullptr);
    for (std::size_t c = 0; c < ordered.size(); ++c) {
      for (const std::size_t input : ordered[c].second) {
        for (Eigen::Index row = 0; row < points.rows(); ++row) {
          values[input].push_back(figures::triangular_quantile(ledger.inputs()[input].range,
                                                               points(row, static_cast<Eigen::Index>(c))));
        }
        columns[input] = values[input].data();
      }
    }
    return Eigen::ArrayXd(evaluator.evaluate(columns, points.rows()).col(0));
  };
  const Indices indices =
      variance_indices(function, static_cast<Eigen::Index>(ordered.size()), samples, seed);
  FigureDrivers result{indices.mean, indices.variance, {}};
  for (std::size_t c = 0; c < ordered.size(); ++c) {
    Driver driver{ordered[c].first, {}, indices.first[c], indices.total[c]};
    for (const std::size_t input : ordered[c].second) driver.inputs.push_back(ledger.inputs()[input].key);
    result.drivers.push_back(std::move(driver));
  }
  std::stable_sort(result.drivers.begin(), result.drivers.end(),
                   [](const Driver& x, const Driver& y) { return x.total.value > y.total.value; });
  return result;
}

}  // namespace portweigh::exploration

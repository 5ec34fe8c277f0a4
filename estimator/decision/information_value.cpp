#include "decision/information_value.hpp"

#include <algorithm>
#include <numeric>

#include "figures/evaluation/parallel.hpp"

namespace portweigh::decision {
namespace {

constexpr Eigen::Index most_bins = 64;
constexpr Eigen::Index least_in_half = 16;

}  // namespace

double value_of_knowing(const Eigen::ArrayXXd& worth, std::span<const double> input) {
  const Eigen::Index count = worth.rows();
  const Eigen::Index bins = std::clamp<Eigen::Index>(count / (2 * least_in_half), 1, most_bins);
  std::vector<Eigen::Index> order(input.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](Eigen::Index a, Eigen::Index b) {
    return input[static_cast<std::size_t>(a)] < input[static_cast<std::size_t>(b)];
  });
  // Sample -> half of a bin; neighbours in the order go to different halves.
  std::vector<Eigen::Index> half_of(order.size());
  for (Eigen::Index place = 0; place < count; ++place) {
    const Eigen::Index half = 2 * (place * bins / count) + place % 2;
    half_of[static_cast<std::size_t>(order[static_cast<std::size_t>(place)])] = half;
  }
  Eigen::ArrayXXd sums = Eigen::ArrayXXd::Zero(worth.cols(), 2 * bins);
  for (Eigen::Index option = 0; option < worth.cols(); ++option) {
    for (Eigen::Index row = 0; row < count; ++row) {
      sums(option, half_of[static_cast<std::size_t>(row)]) += worth(row, option);
    }
  }
  double informed = 0;
  for (Eigen::Index half = 0; half < 2 * bins; ++half) {
    const Eigen::Index other = half % 2 == 0 ? half + 1 : half - 1;
    Eigen::Index chosen = 0;
    sums.col(other).maxCoeff(&chosen);
    informed += sums(chosen, half);
  }
  const double uninformed = sums.rowwise().sum().maxCoeff();
  // Both are sums of the same numbers in another order: below rounding there is nothing to know.
  constexpr double rounding = 1e-12;
  const double gain = informed - uninformed;
  return gain > rounding * sums.abs().sum() ? gain / static_cast<double>(count) : 0.0;
}

Information information_values(const Eigen::ArrayXXd& worth, const figures::SampleTable& table,
                               unsigned threads) {
  Information information;
  if (worth.size() == 0) return information;
  information.expected_worth = worth.colwise().mean().maxCoeff();
  information.everything = worth.rowwise().maxCoeff().mean() - information.expected_worth;
  const auto& coordinates = table.coordinates();
  std::vector<double> values(coordinates.size());
  figures::for_each_index(coordinates.size(), threads, [&](std::size_t i) {
    const double* column = table.column(coordinates[i].inputs.front());
    values[i] = value_of_knowing(worth, {column, static_cast<std::size_t>(table.count())});
  });
  for (std::size_t i = 0; i < coordinates.size(); ++i) {
    if (values[i] > 0) information.inputs.push_back({coordinates[i], values[i]});
  }
  std::stable_sort(information.inputs.begin(), information.inputs.end(),
                   [](const auto& a, const auto& b) { return a.value > b.value; });
  return information;
}

}  // namespace portweigh::decision

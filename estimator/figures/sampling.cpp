#include "figures/sampling.hpp"

#include <fmt/format.h>

#include <boost/random/sobol.hpp>
#include <cmath>
#include <random>

namespace portweigh::figures {
namespace {

constexpr double two_to_minus_64 = 0x1p-64;

double to_unit_interval(std::uint64_t bits) {
  // The middle of the cell, so that neither 0 nor 1 occurs.
  constexpr std::uint64_t coarse = 12;
  return (static_cast<double>(bits >> coarse) + 0.5) * two_to_minus_64 * static_cast<double>(1ULL << coarse);
}

struct Uncertain {
  Range range;
  std::string coordinate;  // correlation group, or the input itself
};

std::map<std::string, Uncertain> uncertain_inputs(std::span<const Ledger* const> ledgers) {
  std::map<std::string, Uncertain> found;
  for (const Ledger* ledger : ledgers) {
    for (const Input& input : ledger->inputs()) {
      if (input.range.low == input.range.high) continue;
      // The prefixes keep groups and single inputs apart.
      const std::string coordinate = input.correlation.empty() ? "1 " + input.key : "0 " + input.correlation;
      const auto [entry, is_new] = found.try_emplace(input.key, Uncertain{input.range, coordinate});
      if (!is_new && entry->second.coordinate != coordinate) {
        throw LedgerError(fmt::format("input {} is in two correlation groups", input.key));
      }
    }
  }
  return found;
}

}  // namespace

double triangular_quantile(const Range& range, double u) {
  const double width = range.high - range.low;
  if (width <= 0) return range.typical;
  const double left = (range.typical - range.low) / width;
  if (u < left) return range.low + std::sqrt(u * width * (range.typical - range.low));
  return range.high - std::sqrt((1 - u) * width * (range.high - range.typical));
}

Eigen::ArrayXXd sobol_points(Eigen::Index count, Eigen::Index dimensions, std::uint64_t seed) {
  Eigen::ArrayXXd points(count, dimensions);
  if (dimensions == 0) return points;
  constexpr Eigen::Index most_dimensions = 3667;
  if (dimensions > most_dimensions) {
    throw std::length_error(
        fmt::format("{} uncertain inputs, at most {} can be sampled", dimensions, most_dimensions));
  }
  boost::random::sobol generator(static_cast<std::size_t>(dimensions));
  std::mt19937_64 random(seed);
  std::vector<std::uint64_t> shift(static_cast<std::size_t>(dimensions));
  for (std::uint64_t& bits : shift) bits = random();
  for (Eigen::Index row = 0; row < count; ++row) {
    for (Eigen::Index column = 0; column < dimensions; ++column) {
      points(row, column) = to_unit_interval(generator() ^ shift[static_cast<std::size_t>(column)]);
    }
  }
  return points;
}

SampleTable::SampleTable(std::span<const Ledger* const> ledgers, Eigen::Index count, std::uint64_t seed)
    : count_(count) {
  const auto inputs = uncertain_inputs(ledgers);
  std::map<std::string, Eigen::Index> coordinates;
  for (const auto& [key, input] : inputs) coordinates.emplace(input.coordinate, 0);
  for (auto& [name, column] : coordinates) column = dimensions_++;
  const Eigen::ArrayXXd points = sobol_points(count, dimensions_, seed);
  for (const auto& [key, input] : inputs) {
    const Eigen::Index coordinate = coordinates.at(input.coordinate);
    std::vector<double>& column = columns_[key];
    column.resize(static_cast<std::size_t>(count));
    for (Eigen::Index row = 0; row < count; ++row) {
      column[static_cast<std::size_t>(row)] = triangular_quantile(input.range, points(row, coordinate));
    }
  }
}

const double* SampleTable::column(std::string_view key) const {
  const auto found = columns_.find(key);
  return found == columns_.end() ? nullptr : found->second.data();
}

std::vector<const double*> SampleTable::columns_for(const Ledger& ledger) const {
  std::vector<const double*> columns;
  for (const Input& input : ledger.inputs()) {
    const bool is_exact = input.range.low == input.range.high;
    columns.push_back(is_exact ? nullptr : column(input.key));
  }
  return columns;
}

}  // namespace portweigh::figures

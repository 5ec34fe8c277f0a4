#include "figures/evaluation/sampling.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <bit>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <random>

#include "figures/evaluation/parallel.hpp"

namespace portweigh::figures {
namespace {

constexpr double two_to_minus_64 = 0x1p-64;

double to_unit_interval(std::uint64_t bits) {
  // The middle of the cell, so that neither 0 nor 1 occurs.
  constexpr std::uint64_t coarse = 12;
  return (static_cast<double>(bits >> coarse) + 0.5) * two_to_minus_64 * static_cast<double>(1ULL << coarse);
}

constexpr Eigen::Index most_sobol_dimensions = 3667;

}  // namespace

// The columns of a Sobol sequence of which the first point, the origin, is left out, and random ones behind
// them.
class SobolColumns {
 public:
  SobolColumns(Eigen::Index count, Eigen::Index dimensions, std::uint64_t seed) : seed_(seed) {
    const auto width = static_cast<std::size_t>(std::min(dimensions, most_sobol_dimensions));
    std::mt19937_64 random(seed);
    for (std::size_t i = 0; i < width; ++i) shift_.push_back(random());
    if (width == 0) return;
    boost::random::sobol generator(width);
    const auto point = [&](std::uint64_t number) {
      generator.seed();
      generator.discard((number - 1) * width);
      std::vector<std::uint64_t> values(width);
      for (std::uint64_t& value : values) value = generator();
      return values;
    };
    // The Gray codes of 2^j - 1 and 2^j differ in bit j only.
    for (std::uint64_t number = 1; number <= static_cast<std::uint64_t>(count); number *= 2) {
      directions_.push_back(point(number));
      if (number == 1) continue;
      const auto before = point(number - 1);
      for (std::size_t i = 0; i < width; ++i) directions_.back()[i] ^= before[i];
    }
  }

  // Rows from `first` on, as many as `target` takes.
  void write(Eigen::Index column, Eigen::Index first, std::span<double> target) const {
    const auto at = static_cast<std::size_t>(column);
    auto number = static_cast<std::uint64_t>(first);
    if (at >= shift_.size()) return write_random(at, number, target);
    std::uint64_t bits = shift_[at];
    for (std::uint64_t code = number ^ number >> 1U; code != 0; code &= code - 1) {
      bits ^= direction_of(code, at);
    }
    for (double& value : target) {
      bits ^= direction_of(++number, at);
      value = to_unit_interval(bits);
    }
  }

 private:
  // Of the lowest bit of a number.
  [[nodiscard]] std::uint64_t direction_of(std::uint64_t number, std::size_t column) const {
    return directions_[static_cast<std::size_t>(std::countr_zero(number))][column];
  }

  void write_random(std::size_t column, std::uint64_t first, std::span<double> target) const {
    std::seed_seq sequence{seed_, static_cast<std::uint64_t>(column)};
    std::mt19937_64 random(sequence);
    random.discard(first);
    for (double& value : target) value = to_unit_interval(random());
  }

  std::uint64_t seed_;
  std::vector<std::uint64_t> shift_;
  std::vector<std::vector<std::uint64_t>> directions_;
};

namespace {

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

// triangular_quantile of many, without branches: one square root for each.
void write_quantiles(const Range& range, const Eigen::ArrayXd& u, std::vector<double>& target) {
  const double width = range.high - range.low;
  const double left = (range.typical - range.low) / width;
  const double rising = width * (range.typical - range.low);
  const double falling = width * (range.high - range.typical);
  Eigen::Map<Eigen::ArrayXd> result(target.data(), u.size());
  result = (u < left).select(u * rising, (1 - u) * falling).sqrt();
  result = (u < left).select(range.low + result, range.high - result);
}

}  // namespace

double triangular_quantile(const Range& range, double u) {
  const double width = range.high - range.low;
  if (width <= 0) return range.typical;
  const double left = (range.typical - range.low) / width;
  if (u < left) return range.low + std::sqrt(u * (width * (range.typical - range.low)));
  return range.high - std::sqrt((1 - u) * (width * (range.high - range.typical)));
}

Eigen::ArrayXXd sobol_points(Eigen::Index count, Eigen::Index dimensions, std::uint64_t seed) {
  const SobolColumns columns(count, dimensions, seed);
  Eigen::ArrayXXd points(count, dimensions);
  for (Eigen::Index i = 0; i < dimensions; ++i) {
    columns.write(i, 0, {points.col(i).data(), static_cast<std::size_t>(count)});
  }
  return points;
}

SampleTable::SampleTable(std::span<const Ledger* const> ledgers, Eigen::Index count, std::uint64_t seed,
                         unsigned threads, Eigen::Index held)
    : count_(count), held_(held > 0 ? std::min(held, count) : count), threads_(threads) {
  std::map<std::string, std::vector<std::string>> groups;
  for (const auto& [key, input] : uncertain_inputs(ledgers)) {
    groups[input.coordinate].push_back(key);
    columns_[key] = {input.range, std::vector<double>(static_cast<std::size_t>(held_))};
  }
  for (auto& [name, keys] : groups) coordinates_.push_back({name.substr(2), keys});
  points_ = std::make_shared<SobolColumns>(count, dimensions(), seed);
  move_to(0);
}

void SampleTable::move_to(Eigen::Index first) {
  rows_ = std::min(held_, count_ - first);
  for_each_index(coordinates_.size(), threads_, [&](std::size_t i) {
    Eigen::ArrayXd u(rows_);
    points_->write(static_cast<Eigen::Index>(i), first, {u.data(), static_cast<std::size_t>(rows_)});
    for (const std::string& key : coordinates_[i].inputs) {
      Column& column = columns_.find(key)->second;
      write_quantiles(column.range, u, column.values);
    }
  });
}

const double* SampleTable::column(std::string_view key) const {
  const auto found = columns_.find(key);
  return found == columns_.end() ? nullptr : found->second.values.data();
}

}  // namespace portweigh::figures

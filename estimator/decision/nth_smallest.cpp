#include "decision/nth_smallest.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>

namespace portweigh::decision {
namespace {

constexpr std::size_t probe_count = 256;

struct Bounds {
  double low = 0.0;
  double high = 0.0;
};

// Four standard deviations of the wanted value's rank among the probes to both sides; without a bound where
// that leaves the probes.
Bounds bounds_of(std::span<const double> values, std::size_t rank) {
  std::array<double, probe_count> probes;
  const std::size_t step = values.size() / probe_count;
  for (std::size_t i = 0; i < probe_count; ++i) probes[i] = values[i * step];
  const double share = static_cast<double>(rank) / static_cast<double>(values.size());
  const double place = share * static_cast<double>(probe_count);
  const double slack = 1.0 + 4.0 * std::sqrt(static_cast<double>(probe_count) * share * (1.0 - share));
  Bounds bounds{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  const auto probe_at = [&probes](double at) {
    const auto wanted = probes.begin() + static_cast<std::ptrdiff_t>(at);
    std::nth_element(probes.begin(), wanted, probes.end());
    return *wanted;
  };
  if (place > slack) bounds.low = probe_at(place - slack);
  if (place + slack < static_cast<double>(probe_count)) bounds.high = probe_at(place + slack);
  return bounds;
}

double search(double* first, double* last, std::size_t rank) {
  std::nth_element(first, first + rank, last);
  return first[rank];
}

}  // namespace

double nth_smallest(std::span<const double> values, std::size_t rank) {
  const auto between = std::make_unique_for_overwrite<double[]>(values.size());
  std::size_t below = 0;
  std::size_t found = 0;
  if (values.size() >= 8 * probe_count) {
    const auto [low, high] = bounds_of(values, rank);
    for (const double value : values) {
      between[found] = value;
      found += static_cast<std::size_t>(value >= low) & static_cast<std::size_t>(value <= high);
      below += static_cast<std::size_t>(value < low);
    }
  }
  if (rank < below || rank >= below + found) {
    std::copy(values.begin(), values.end(), between.get());
    return search(between.get(), between.get() + values.size(), rank);
  }
  return search(between.get(), between.get() + found, rank - below);
}

void NthOfParts::add(std::span<const double> part) {
  seen_ += part.size();
  if (part.size() == count_) {
    kept_ = {nth_smallest(part, rank_)};
    below_ = rank_;
    return;
  }
  for (const double value : part) {
    if (value < low_) {
      ++below_;
    } else if (value <= high_) {
      kept_.push_back(value);
    }
  }
  drop_far_values();
}

void NthOfParts::drop_far_values() {
  const double share = static_cast<double>(rank_) / static_cast<double>(count_);
  const double place = share * static_cast<double>(seen_) - static_cast<double>(below_);
  const double slack = 1.0 + 6.0 * std::sqrt(static_cast<double>(seen_) * share * (1.0 - share));
  const double last = static_cast<double>(kept_.size()) - 1.0;
  if (place + slack < last) {
    const auto highest = kept_.begin() + static_cast<std::ptrdiff_t>(std::max(0.0, place + slack));
    std::nth_element(kept_.begin(), highest, kept_.end());
    high_ = *highest;
    kept_.erase(highest + 1, kept_.end());
  }
  if (place - slack > 0.0 && !kept_.empty()) {
    const auto lowest = kept_.begin() + static_cast<std::ptrdiff_t>(
                                            std::min(place - slack, static_cast<double>(kept_.size() - 1)));
    std::nth_element(kept_.begin(), lowest, kept_.end());
    low_ = *lowest;
    below_ += static_cast<std::size_t>(lowest - kept_.begin());
    kept_.erase(kept_.begin(), lowest);
  }
  kept_.shrink_to_fit();
}

double NthOfParts::value() const {
  std::vector<double> sorted = kept_;
  std::sort(sorted.begin(), sorted.end());
  const std::size_t place = rank_ < below_ ? 0 : rank_ - below_;
  return sorted.at(std::min(place, sorted.size() - 1));
}

}  // namespace portweigh::decision

// Ranks against sorting, for lists long and short, with ties, and arranged so that the probes mislead.
#include "decision/nth_smallest.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

using portweigh::decision::nth_smallest;
using portweigh::decision::NthOfParts;

namespace {

int count_wrong(const std::vector<double>& values) {
  std::vector<double> sorted = values;
  std::sort(sorted.begin(), sorted.end());
  int wrong = 0;
  for (const double share : {0.0, 0.001, 0.05, 0.3, 0.5, 0.95, 0.999, 1.0}) {
    const auto rank = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
    if (nth_smallest(values, rank) != sorted[rank]) ++wrong;
  }
  return wrong;
}

}  // namespace

TEST_CASE("The nth smallest value is that of the sorted list") {
  std::mt19937 random(1);
  std::lognormal_distribution<double> draw;
  for (const std::size_t count : {1U, 2U, 100U, 2047U, 2048U, 10000U, 10001U}) {
    std::vector<double> values(count);
    for (double& value : values) value = draw(random);
    CHECK(count_wrong(values) == 0);
    for (double& value : values) value = std::round(value);
    CHECK(count_wrong(values) == 0);
    std::sort(values.begin(), values.end());
    CHECK(count_wrong(values) == 0);
  }
  CHECK(count_wrong(std::vector<double>(5000, 7.0)) == 0);
}

TEST_CASE("The nth smallest value is found where the probed ones are all small") {
  std::vector<double> values(10240);
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] = i % 40 == 0 ? 0.0 : static_cast<double>(i * 7919 % 10007 + 1);
  }
  CHECK(count_wrong(values) == 0);
}

TEST_CASE("The nth smallest value of parts is that of all of them") {
  std::mt19937 random(2);
  std::lognormal_distribution<double> draw;
  for (const double step : {0.0, 0.25}) {  // with ties and without
    std::vector<double> values(50000);
    for (double& value : values) value = draw(random);
    if (step > 0) {
      for (double& value : values) value = std::round(value / step) * step;
    }
    std::vector<double> sorted = values;
    std::sort(sorted.begin(), sorted.end());
    for (const std::size_t rank : {0U, 2500U, 25000U, 47499U, 49999U}) {
      for (const std::size_t size : {1000U, 4096U, 50000U}) {
        NthOfParts nth(values.size(), rank);
        for (std::size_t first = 0; first < values.size(); first += size) {
          nth.add(std::span(values).subspan(first, std::min(size, values.size() - first)));
        }
        INFO("step " << step << ", rank " << rank << ", parts of " << size);
        CHECK(nth.value() == sorted[rank]);
      }
    }
  }
}

TEST_CASE("Where parts differ, the nearest kept value stands for the dropped one") {
  const std::vector<double> low(5000, 1.0);
  std::vector<double> high(5000);
  for (std::size_t i = 0; i < high.size(); ++i) high[i] = 2.0 + static_cast<double>(i);
  NthOfParts nth(10000, 6000);
  nth.add(low);
  nth.add(high);
  CHECK(nth.value() == 1.0);
  NthOfParts other(10000, 4000);
  other.add(high);
  other.add(low);
  CHECK(other.value() > 1000.0);
}

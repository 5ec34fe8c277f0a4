#include "options/money/event_distribution.hpp"

#include <algorithm>
#include <cmath>

namespace portweigh::options {
namespace {

// Joins neighbours that are closer than `width`, at their mean, so that the mean of all stays exact.
std::vector<Outcome> joined(std::vector<Outcome> outcomes, double width) {
  std::sort(outcomes.begin(), outcomes.end(), [](const auto& a, const auto& b) { return a.cost < b.cost; });
  std::vector<Outcome> result;
  double first_cost = 0;
  for (const Outcome& outcome : outcomes) {
    if (outcome.probability <= 0) continue;
    if (result.empty() || outcome.cost - first_cost > width) {
      result.push_back(outcome);
      first_cost = outcome.cost;
      continue;
    }
    Outcome& last = result.back();
    const double together = last.probability + outcome.probability;
    last.cost += (outcome.cost - last.cost) * outcome.probability / together;
    last.probability = together;
  }
  return result;
}

std::vector<Outcome> after_trial(const std::vector<Outcome>& before, double chance, double cost,
                                 double width) {
  std::vector<Outcome> after;
  after.reserve(2 * before.size());
  for (const Outcome& outcome : before) {
    after.push_back({outcome.cost, outcome.probability * (1 - chance)});
    after.push_back({outcome.cost + cost, outcome.probability * chance});
  }
  return joined(std::move(after), width);
}

}  // namespace

std::vector<Outcome> total_distribution(const std::vector<RepeatedEvent>& events) {
  double largest = 0;
  for (const RepeatedEvent& event : events) largest += std::ceil(event.trials) * event.cost;
  constexpr double resolution = 1e-6;
  const double width = largest * resolution;
  std::vector<Outcome> outcomes = {{0, 1}};
  for (const RepeatedEvent& event : events) {
    const double whole = std::floor(event.trials);
    for (double trial = 0; trial < whole; ++trial) {
      outcomes = after_trial(outcomes, event.chance, event.cost, width);
    }
    const double rest = event.trials - whole;
    if (rest > 0) outcomes = after_trial(outcomes, event.chance * rest, event.cost, width);
  }
  return outcomes;
}

double mean_of(const std::vector<Outcome>& outcomes) {
  double mean = 0;
  for (const Outcome& outcome : outcomes) mean += outcome.cost * outcome.probability;
  return mean;
}

double deviation_of(const std::vector<Outcome>& outcomes) {
  const double mean = mean_of(outcomes);
  double variance = 0;
  for (const Outcome& outcome : outcomes) {
    variance += (outcome.cost - mean) * (outcome.cost - mean) * outcome.probability;
  }
  return std::sqrt(variance);
}

double worst_mean_of(const std::vector<Outcome>& outcomes, double share) {
  double left = share;
  double sum = 0;
  for (auto outcome = outcomes.rbegin(); outcome != outcomes.rend() && left > 0; ++outcome) {
    const double taken = std::min(left, outcome->probability);
    sum += taken * outcome->cost;
    left -= taken;
  }
  return sum / (share - std::max(left, 0.0));
}

}  // namespace portweigh::options

#include "options/search/partition.hpp"

#include <algorithm>
#include <limits>

namespace portweigh::options {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

class Search {
 public:
  Search(const PartitionProblem& problem, bool uses_bounds)
      : problem_(problem), uses_bounds_(uses_bounds), rest_(problem.items() + 1, 0) {
    for (std::size_t item = problem.items(); item-- > 0;) {
      double least = infinity;
      for (std::size_t engine = 0; engine < problem.engines; ++engine) {
        if (problem.allowed[item][engine]) least = std::min(least, problem.cost[item][engine]);
      }
      rest_[item] = rest_[item + 1] + least;
    }
  }

  PartitionResult run() {
    result_.cost = infinity;
    visit(0);
    if (!result_.best) result_.cost = 0;
    return std::move(result_);
  }

 private:
  void visit(double placed_cost) {
    const std::size_t item = assigned_.size();
    if (item == problem_.items()) {
      complete();
      return;
    }
    for (const std::size_t engine : cheapest_first(item)) {
      const bool is_open = std::find(assigned_.begin(), assigned_.end(), engine) != assigned_.end();
      const double cost =
          placed_cost + problem_.cost[item][engine] + (is_open ? 0.0 : problem_.opening[engine]);
      // Rounding must not cut off an assignment that is as good as the best.
      constexpr double rounding = 1e-12;
      if (uses_bounds_ && (cost + rest_[item + 1]) * (1 - rounding) > result_.cost) {
        ++result_.cut_by_bound;
        continue;
      }
      assigned_.push_back(engine);
      if (problem_.can_hold(assigned_)) {
        visit(cost);
      } else {
        ++result_.cut_by_capacity;
      }
      assigned_.pop_back();
    }
  }

  std::vector<std::size_t> cheapest_first(std::size_t item) const {
    std::vector<std::size_t> engines;
    for (std::size_t engine = 0; engine < problem_.engines; ++engine) {
      if (problem_.allowed[item][engine]) engines.push_back(engine);
    }
    std::stable_sort(engines.begin(), engines.end(), [&](std::size_t a, std::size_t b) {
      return problem_.cost[item][a] < problem_.cost[item][b];
    });
    return engines;
  }

  void complete() {
    ++result_.completed;
    const auto cost = problem_.complete_cost(assigned_);
    if (!cost) {
      ++result_.impossible;
      return;
    }
    const bool is_first_of_equals = *cost == result_.cost && result_.best && assigned_ < *result_.best;
    if (*cost < result_.cost || is_first_of_equals) {
      result_.cost = *cost;
      result_.best = assigned_;
    }
  }

  const PartitionProblem& problem_;
  bool uses_bounds_;
  std::vector<double> rest_;  // least cost of the items from this one on
  Assigned assigned_;
  PartitionResult result_;
};

}  // namespace

PartitionResult search_partition(const PartitionProblem& problem) {
  return Search(problem, true).run();
}

PartitionResult try_all_partitions(const PartitionProblem& problem) {
  return Search(problem, false).run();
}

}  // namespace portweigh::options

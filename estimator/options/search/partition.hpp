// Which item goes to which engine, at least cost: an exact search that leaves out only what can't be better.
//
//   cost(assignment) >= sum of cost[item][engine] + sum of opening[engine] over the engines that are used
// The right side, with the cheapest allowed engine for each item not placed yet, bounds every completion of a
// partial assignment from below, so a branch whose bound is not below the best cost found is left out without
// loss; the real cost (clocks, links, pins) comes from `complete_cost`. `can_hold` must be monotone: an
// engine that can't hold some items can't hold more. Items are placed in their order, engines tried from the
// cheapest. Example: 2 items, costs {1, 3} and {2, 1}, opening {0, 1.5}: all on engine 0 costs 3, the best.
// Source: Land & Doig, Econometrica 28, 1960 (branch and bound). Tested by tests/options/search/partition_test.cpp
// against all assignments of 200 random problems.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace portweigh::options {

// Engine of each item placed so far.
using Assigned = std::vector<std::size_t>;

struct PartitionProblem {
  std::size_t engines = 0;
  std::vector<std::vector<bool>> allowed;  // [item][engine]
  std::vector<std::vector<double>> cost;   // [item][engine], not negative; at most its share of the real cost
  std::vector<double> opening;             // [engine], not negative; at most what using it adds beside
  std::function<bool(const Assigned&)> can_hold;                        // of the items placed so far
  std::function<std::optional<double>(const Assigned&)> complete_cost;  // of all items; none: impossible

  std::size_t items() const { return cost.size(); }
};

struct PartitionResult {
  std::optional<Assigned> best;  // of equal ones the first in the order of engines' numbers
  double cost = 0;
  std::size_t completed = 0;   // assignments whose real cost was asked for
  std::size_t impossible = 0;  // of these, those that were impossible
  std::size_t cut_by_bound = 0;
  std::size_t cut_by_capacity = 0;
};

PartitionResult search_partition(const PartitionProblem& problem);

// The same by trying every assignment: small problems, and the check of the search.
PartitionResult try_all_partitions(const PartitionProblem& problem);

}  // namespace portweigh::options

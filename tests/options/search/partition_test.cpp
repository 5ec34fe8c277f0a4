#include "options/search/partition.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <random>

using namespace portweigh::options;

namespace {

// Costs in whole numbers, so that equal costs happen and sums are exact.
struct RandomProblem {
  std::size_t items = 0;
  std::size_t engines = 0;
  std::vector<std::vector<double>> need;  // [item][engine]
  std::vector<double> capacity;           // [engine]
  std::vector<std::vector<double>> link;  // [item][item], paid where they are on different engines
  PartitionProblem problem;
};

void draw_tables(RandomProblem& random, std::mt19937_64& source) {
  const auto draw = [&](unsigned limit) { return static_cast<double>(source() % limit); };
  random.items = 1 + source() % 7;
  random.engines = 1 + source() % 3;
  PartitionProblem& problem = random.problem;
  problem.engines = random.engines;
  for (std::size_t i = 0; i < random.items; ++i) {
    std::vector<bool> allowed;
    std::vector<double> cost;
    std::vector<double> need;
    std::vector<double> link;
    for (std::size_t e = 0; e < random.engines; ++e) {
      allowed.push_back(source() % 6 != 0);
      cost.push_back(draw(9));
      need.push_back(draw(6));
    }
    for (std::size_t j = 0; j < random.items; ++j) link.push_back(draw(4));
    problem.allowed.push_back(std::move(allowed));
    problem.cost.push_back(std::move(cost));
    random.need.push_back(std::move(need));
    random.link.push_back(std::move(link));
  }
  for (std::size_t e = 0; e < random.engines; ++e) {
    problem.opening.push_back(draw(8));
    random.capacity.push_back(3 + draw(15));
  }
}

double cost_of(const RandomProblem& random, const Assigned& assigned) {
  double cost = 0;
  std::vector<bool> is_open(random.engines, false);
  for (std::size_t i = 0; i < assigned.size(); ++i) {
    cost += random.problem.cost[i][assigned[i]];
    if (!is_open[assigned[i]]) cost += random.problem.opening[assigned[i]];
    is_open[assigned[i]] = true;
    for (std::size_t j = 0; j < i; ++j) {
      if (assigned[i] != assigned[j]) cost += random.link[i][j];
    }
  }
  return cost;
}

bool fits(const RandomProblem& random, const Assigned& assigned) {
  std::vector<double> used(random.engines, 0);
  for (std::size_t i = 0; i < assigned.size(); ++i) used[assigned[i]] += random.need[i][assigned[i]];
  for (std::size_t e = 0; e < random.engines; ++e) {
    if (used[e] > random.capacity[e]) return false;
  }
  return true;
}

// Counts through all assignments like an odometer, apart from the code under test.
std::optional<std::pair<double, Assigned>> count_through(const RandomProblem& random) {
  std::optional<std::pair<double, Assigned>> best;
  Assigned assigned(random.items, 0);
  while (true) {
    bool is_allowed = fits(random, assigned);
    for (std::size_t i = 0; i < random.items; ++i) {
      is_allowed = is_allowed && random.problem.allowed[i][assigned[i]];
    }
    if (is_allowed && cost_of(random, assigned) < 60) {
      const double cost = cost_of(random, assigned);
      if (!best || cost < best->first) best = std::pair(cost, assigned);
    }
    std::size_t digit = random.items;
    while (digit > 0 && ++assigned[digit - 1] == random.engines) assigned[--digit] = 0;
    if (digit == 0) return best;
  }
}

}  // namespace

TEST_CASE("The search finds what counting through all assignments finds, on 200 random problems") {
  std::mt19937_64 source(20);
  std::size_t solved = 0;
  std::size_t cut = 0;
  for (int round = 0; round < 200; ++round) {
    RandomProblem random;
    draw_tables(random, source);
    random.problem.can_hold = [&](const Assigned& assigned) { return fits(random, assigned); };
    random.problem.complete_cost = [&](const Assigned& assigned) -> std::optional<double> {
      const double cost = cost_of(random, assigned);
      if (cost >= 60) return std::nullopt;
      return cost;
    };
    const auto expected = count_through(random);
    for (const auto& found : {search_partition(random.problem), try_all_partitions(random.problem)}) {
      INFO("problem " << round);
      REQUIRE(found.best.has_value() == expected.has_value());
      if (!expected) continue;
      CHECK(found.cost == expected->first);
      CHECK(*found.best == expected->second);
    }
    solved += expected ? 1 : 0;
    cut += search_partition(random.problem).cut_by_bound;
  }
  // Both happen often, or the comparison would say little.
  CHECK(solved > 100);
  CHECK(cut > 200);
}

TEST_CASE("The example of the header: one engine for both items is cheapest") {
  PartitionProblem problem;
  problem.engines = 2;
  problem.allowed = {{true, true}, {true, true}};
  problem.cost = {{1, 3}, {2, 1}};
  problem.opening = {0, 1.5};
  problem.can_hold = [](const Assigned&) { return true; };
  problem.complete_cost = [&](const Assigned& a) -> std::optional<double> {
    return problem.cost[0][a[0]] + problem.cost[1][a[1]] + (a[0] + a[1] > 0 ? 1.5 : 0);
  };
  const PartitionResult result = search_partition(problem);
  REQUIRE(result.best);
  CHECK(*result.best == Assigned{0, 0});
  CHECK(result.cost == 3);
}

// The cheapest choice of one option for each product of a family, where products share one-time cost.
//
//   cost of a choice = sum of own costs + for each shared item the largest cost among the products that take
//   it
// so that a block made for one product is not paid for again by the next. Search by branch and bound, exact:
// products one by one, cheapest addition first; the bound for the products left adds, for each, its cheapest
// option with every shared item divided by the number of products left that could take it. That never exceeds
// what a completion costs, since an item is paid for at least as often as one divided share for each taker.
// Tested against trying everything by tests/options/family/family_search_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace portweigh::options {

struct FamilyChoice {
  double own_cost = 0;
  std::vector<std::pair<std::string, double>> shared;  // item and its cost, not negative; each item once
};

// The options of each product; at least one each.
using FamilyProducts = std::vector<std::vector<FamilyChoice>>;

// `chosen`: index of the option of each product.
double family_cost(const FamilyProducts& products, const std::vector<std::size_t>& chosen);

// Each product's cheapest option when it pays for everything itself; the first of equals.
std::vector<std::size_t> best_alone(const FamilyProducts& products);

struct FamilyOptimum {
  std::vector<std::size_t> chosen;
  double cost = 0;
  std::uint64_t visited = 0;  // partial choices looked at
};

// Throws std::invalid_argument if a product has no option or a cost is negative or not finite.
FamilyOptimum best_family(const FamilyProducts& products);

}  // namespace portweigh::options

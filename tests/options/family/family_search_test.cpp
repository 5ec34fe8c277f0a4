// The family's optimum against trying every choice.
#include "options/family/family_search.hpp"

#include <catch2/catch.hpp>
#include <random>

using namespace portweigh::options;

namespace {

double cheapest_of_all(const FamilyProducts& products, std::vector<std::size_t>& chosen,
                       std::size_t product) {
  if (product == products.size()) return family_cost(products, chosen);
  double least = 1e300;
  for (std::size_t option = 0; option < products[product].size(); ++option) {
    chosen[product] = option;
    least = std::min(least, cheapest_of_all(products, chosen, product + 1));
  }
  return least;
}

FamilyProducts random_family(std::mt19937& random) {
  const auto draw = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  FamilyProducts products(static_cast<std::size_t>(draw(1, 5)));
  for (auto& options : products) {
    options.resize(static_cast<std::size_t>(draw(1, 6)));
    for (FamilyChoice& option : options) {
      option.own_cost = draw(0, 100);
      for (const char* item : {"a", "b", "c", "d", "e"}) {
        if (draw(0, 2) == 0) option.shared.emplace_back(item, draw(0, 80));
      }
    }
  }
  return products;
}

}  // namespace

TEST_CASE("The optimum of random small families is that of trying everything") {
  std::mt19937 random(11);
  int shared_won = 0;
  for (int round = 0; round < 600; ++round) {
    const FamilyProducts products = random_family(random);
    std::vector<std::size_t> chosen(products.size());
    const double expected = cheapest_of_all(products, chosen, 0);
    const FamilyOptimum found = best_family(products);
    REQUIRE(found.cost == Approx(expected).margin(1e-9));
    REQUIRE(family_cost(products, found.chosen) == Approx(found.cost).margin(1e-9));
    shared_won += family_cost(products, best_alone(products)) > expected + 1e-9 ? 1 : 0;
  }
  CHECK(shared_won > 50);  // families where choosing alone is not good enough
}

TEST_CASE("A platform dear for one product alone wins where two share it") {
  const FamilyProducts products = {{{10, {{"tools", 100}}}, {100, {}}}, {{20, {{"tools", 100}}}, {110, {}}}};
  CHECK(best_alone(products) == std::vector<std::size_t>{1, 1});
  const FamilyOptimum optimum = best_family(products);
  CHECK(optimum.chosen == std::vector<std::size_t>{0, 0});
  CHECK(optimum.cost == 130);
}

TEST_CASE("A large family is searched without looking at every choice") {
  std::mt19937 random(3);
  FamilyProducts products(10);
  for (auto& options : products) {
    options.resize(20);
    for (FamilyChoice& option : options) {
      option.own_cost = std::uniform_int_distribution<int>(500, 1500)(random);
      option.shared = {{"p" + std::to_string(random() % 6), 120}};
    }
  }
  CHECK(best_family(products).visited < 1000000);  // of 20^10 choices
}

TEST_CASE("A product without options, negative and undefined costs are refused") {
  CHECK_THROWS_AS(best_family({{}}), std::invalid_argument);
  CHECK_THROWS_AS(best_family({{{-1, {}}}}), std::invalid_argument);
  CHECK_THROWS_AS(best_family({{{1, {{"a", std::numeric_limits<double>::quiet_NaN()}}}}}),
                  std::invalid_argument);
}

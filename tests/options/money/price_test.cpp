// What a piece costs at a quantity: steps and buying up, logarithms where the list says so, whole lots.
#include "options/money/price.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

parts::Prices list_of(const std::vector<std::pair<double, double>>& breaks) {
  parts::Prices prices;
  for (const auto& [quantity, price] : breaks) {
    prices.breaks.push_back({quantity, {price, figures::parse_unit("USD"), {}, {}}});
  }
  return prices;
}

}  // namespace

// check value of price steps [S, C]: 2.50, from 100 pieces 2.25: from 90 pieces on buy 100.
TEST_CASE("From 90 pieces on it is cheaper to buy 100") {
  const parts::Prices prices = list_of({{1, 2.50}, {100, 2.25}});
  CHECK(price_at(prices, 89, 1) == Approx(2.50));
  CHECK(price_at(prices, 90, 1) == Approx(225.0 / 90));
  CHECK(price_at(prices, 95, 1) == Approx(225.0 / 95));
  CHECK(price_at(prices, 100, 1) == Approx(2.25));
  CHECK(price_at(prices, 5000, 1) == Approx(2.25));
}

// check values of price steps [S, C]: demand 800 a year, 53 / 51.5 from 50 / 49.5 from 100 / 48 from 200 / 47 from
// 500; here for what is bought at once.
TEST_CASE("A price is that of the break reached") {
  const parts::Prices prices = list_of({{1, 53}, {50, 51.5}, {100, 49.5}, {200, 48}, {500, 47}});
  CHECK(price_at(prices, 79, 1) == Approx(51.5));
  CHECK(price_at(prices, 100, 1) == Approx(49.5));
  CHECK(price_at(prices, 200, 1) == Approx(48));
  CHECK(price_at(prices, 800, 2) == Approx(94));
}

// check value of price steps [S, C]: 800 a year, 60 an order, stock at 30 % a year: 42417.87 (79 at 51.5), 40822.5 (100),
// 40080 (200), 41221 (500).
TEST_CASE("What a year costs follows from the price of one order") {
  const parts::Prices prices = list_of({{1, 53}, {50, 51.5}, {100, 49.5}, {200, 48}, {500, 47}});
  const auto year = [&](double of_order) {
    const double price = price_at(prices, of_order, 1);
    return 800 * price + 800 / of_order * 60 + 0.3 * price * of_order / 2;
  };
  CHECK(year(79) == Approx(42417.87).epsilon(1e-7));
  CHECK(year(100) == Approx(40822.5));
  CHECK(year(200) == Approx(40080));
  CHECK(year(500) == Approx(41221));
}

TEST_CASE("More pieces never cost less in all, and never more each") {
  const parts::Prices prices = list_of({{1, 53}, {50, 51.5}, {100, 49.5}, {200, 30}, {500, 29}});
  double total = 0;
  double each = 60;
  for (double quantity = 1; quantity < 800; quantity += 1) {
    const double price = price_at(prices, quantity, 1);
    CHECK(price * quantity >= total - 1e-9);
    CHECK(price <= each + 1e-12);
    total = price * quantity;
    each = price;
  }
}

// Log-log interpolation of (100, 2.50), (1000, 1.80) at 300 gives 2.13732 [C].
TEST_CASE("Logarithms join the breaks only where the list says so") {
  parts::Prices prices = list_of({{100, 2.50}, {1000, 1.80}});
  CHECK(price_at(prices, 300, 1) == Approx(2.50));
  prices.between = parts::BetweenBreaks::log_log;
  CHECK(price_at(prices, 300, 1) == Approx(2.13732).epsilon(1e-5));
}

TEST_CASE("Whole lots are paid for") {
  parts::Prices prices = list_of({{1, 1.0}, {2500, 0.8}});
  prices.lot = 1000;
  CHECK(price_at(prices, 2000, 1) == Approx(1.0));
  CHECK(price_at(prices, 2001, 1) == Approx(3000 * 0.8 / 2001));
  CHECK(price_at(prices, 1001, 1) == Approx(2000.0 / 1001));
}

TEST_CASE("The same price comes from numbers and from a ledger") {
  const parts::Prices prices = list_of({{1, 2.50}, {100, 2.25}});
  figures::Ledger ledger;
  const auto quantity = tests::number(ledger, "quantity", 95);
  const auto price = price_at(ledger, prices, quantity, 1);
  CHECK(figures::evaluate(ledger, price) == price_at(prices, 95, 1));
  const figures::Setting more[] = {{"quantity", 300}};
  CHECK(figures::evaluate(ledger, price, more) == price_at(prices, 300, 1));
}

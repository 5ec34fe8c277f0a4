// Break-even volumes and prices against a worked example.
#include "options/money/break_even.hpp"

#include <catch2/catch.hpp>

#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

// An option of one part with nothing but a price and a one-time cost.
Option plain_option(const std::string& id, double unit, double once) {
  Option option;
  option.id = id;
  option.parts = {id};
  auto& ledger = option.ledger;
  const auto volume = number(ledger, "volume_per_year", 10000);
  const auto usd = figures::parse_unit("USD");
  const auto price =
      ledger.name(number(ledger, "list." + id, unit, "USD") * number(ledger, "parts." + id + ".price", 1),
                  "price." + id, "price", usd);
  ledger.name(price + number(ledger, "once", once, "USD") / volume, "cost_per_unit_over_life", "life", usd);
  return option;
}

}  // namespace

// Break-even of any textbook, computed by hand: (50000 - 5000) / (4.20 - 1.90) = 19565.2 units [C].
TEST_CASE("The break-even volume is that of the textbook") {
  const Option flexible = plain_option("a", 4.20, 5000);
  const Option cheap = plain_option("b", 1.90, 50000);
  const auto volumes = break_even_volumes(flexible, cheap, 100, 1e6);
  REQUIRE(volumes.size() == 1);
  CHECK(volumes[0] == Approx(19565.2).epsilon(1e-5));
  CHECK(break_even_volumes(flexible, cheap, 100, 10000).empty());
}

TEST_CASE("At its winning price the dear option costs the same") {
  const Option flexible = plain_option("a", 4.20, 5000);
  const Option cheap = plain_option("b", 1.90, 50000);
  const auto at_10000 = winning_price(cheap, flexible);  // 6.90 against 4.70 at 10 000 units
  CHECK_FALSE(at_10000.has_value());                     // even free it would not win: 5.00 against 4.70
  const auto other = winning_price(flexible, cheap);
  REQUIRE(other.has_value());
  CHECK(other->price_now == Approx(4.20));
  CHECK(other->price_needed == Approx(6.40));  // it may rise that far
}

TEST_CASE("Winning prices of the demo's options equalise cost over life") {
  const Considered considered = considered_with(study_of_three());
  const Option& fixed = option_named(considered, fixed_id);
  const Option& logic = option_named(considered, logic_id);
  const auto price = winning_price(logic, fixed);
  if (price) {
    const double factor = price->price_needed / price->price_now;
    CHECK(value_of(logic, "cost_per_unit_over_life", {{"parts." + logic_id + ".price", factor}}) ==
          Approx(value_of(fixed, "cost_per_unit_over_life")));
  } else {
    CHECK(value_of(logic, "cost_per_unit_over_life", {{"parts." + logic_id + ".price", 0}}) >
          value_of(fixed, "cost_per_unit_over_life"));
  }
  for (const double volume : break_even_volumes(fixed, logic, 1000, 1e7)) {
    CHECK(value_of(logic, "cost_per_unit_over_life", {{"volume_per_year", volume}}) ==
          Approx(value_of(fixed, "cost_per_unit_over_life", {{"volume_per_year", volume}})).epsilon(1e-6));
  }
}

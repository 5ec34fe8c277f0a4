// What a unit costs: prices between breaks, currencies, yield, and warnings outside the price list.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"
#include "options/money/price.hpp"
#include "options/option.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

// The demo with another price list and currency for the fixed function.
struct Priced {
  parts::Catalog catalog = demo().catalog;
  study::Study study = study_of_three();

  parts::FixedFunction& fixed() {
    return *std::find_if(catalog.fixed_functions.begin(), catalog.fixed_functions.end(),
                         [](const auto& part) { return part.part.id == fixed_id; });
  }
  void set_breaks(const std::vector<std::pair<double, std::string>>& breaks) {
    fixed().part.prices.breaks.clear();
    for (const auto& [quantity, price] : breaks) {
      const auto parsed = figures::parse_quantity(price);
      fixed().part.prices.breaks.push_back({quantity, {parsed.value_si, parsed.unit, {}}});
    }
  }
  Considered considered() {
    study.only_parts = {fixed_id};
    study::name_inputs(study);
    return consider({catalog, demo().effort, study, demo().library}, 1);
  }
};

bool warns(const Option& option, const std::string& text) {
  return std::any_of(option.warnings.begin(), option.warnings.end(),
                     [&](const std::string& warning) { return warning.find(text) != std::string::npos; });
}

}  // namespace

// Log-log interpolation of (100, 2.50), (1000, 1.80) at 300 gives 2.13732 [C].
TEST_CASE("A price between two breaks is that of the break below, or where told on a line of logarithms") {
  Priced priced;
  priced.set_breaks({{100, "2.50 USD"}, {1000, "1.80 USD"}});
  priced.study.volume_per_year = exact_range(4 * 300);
  const Considered stepped = priced.considered();
  CHECK(value_of(option_named(stepped, fixed_id), "price." + fixed_id) == Approx(2.50));
  priced.fixed().part.prices.between = parts::BetweenBreaks::log_log;
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "price." + fixed_id) == Approx(2.13732).epsilon(1e-5));
  CHECK_FALSE(warns(option, "its last break"));
}

// check value of price steps [S, C]: 2.50, from 100 pieces 2.25: from 90 pieces on buy 100; here for each of four orders.
TEST_CASE("A price is that of one order, not of a year") {
  Priced priced;
  priced.set_breaks({{1, "2.50 USD"}, {100, "2.25 USD"}});
  priced.study.volume_per_year = exact_range(4 * 95);
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  const std::string price = "price." + fixed_id;
  CHECK(value_of(option, "units_of_order") == 95);
  CHECK(value_of(option, price) == Approx(225.0 / 95));
  CHECK(value_of(option, price, {{"volume_per_year", 4 * 89}}) == Approx(2.50));
  CHECK(value_of(option, price, {{"volume_per_year", 4 * 90}}) == Approx(225.0 / 90));
  CHECK(value_of(option, price, {{"orders_per_year", 1}}) == Approx(2.25));
  CHECK(value_of(option, price, {{"orders_per_year", 12}}) == Approx(2.50));
  CHECK_FALSE(warns(option, "its first break"));
}

TEST_CASE("Lots are those of one order") {
  Priced priced;
  priced.set_breaks({{1, "2 USD"}});
  priced.fixed().part.prices.lot = 250;
  priced.study.volume_per_year = exact_range(4000);
  priced.study.orders_per_year = exact_range(12);
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "price." + fixed_id) == Approx(2 * 500 / (4000.0 / 12)));
  CHECK(value_of(option, "price." + fixed_id, {{"orders_per_year", 4}}) == Approx(2));
}

TEST_CASE("An order below the first break is made as large, less often, with a warning") {
  Priced priced;
  priced.set_breaks({{1000, "2.50 USD"}, {5000, "2.25 USD"}});
  priced.study.volume_per_year = exact_range(2000);
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "price." + fixed_id) == Approx(2.50));
  CHECK(warns(option,
              "price of ff-sink below its first break: an order is of 500 at the least, the price of 1000"));
}

TEST_CASE("Beyond the last break its price holds, with a warning") {
  Priced priced;
  priced.set_breaks({{100, "2.50 USD"}, {1000, "1.80 USD"}});
  priced.study.volume_per_year = exact_range(50000);
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "price." + fixed_id) == Approx(1.80));
  CHECK(warns(
      option,
      "price of ff-sink beyond its last break: an order is of up to 12500, the price of 1000 is taken"));
}

TEST_CASE("A price in another currency is converted at the dated rate, whose movement is an input") {
  Priced priced;
  priced.set_breaks({{100, "2.50 EUR"}, {100000, "2.50 EUR"}});
  const Considered considered = priced.considered();
  const Option& option = option_named(considered, fixed_id);
  const double per_dollar = demo().catalog.currencies.at("EUR").per_base;
  CHECK(value_of(option, "price." + fixed_id) == Approx(2.50 / per_dollar));
  CHECK(value_of(option, "price." + fixed_id, {{"currency.EUR", 1.1}}) == Approx(2.75 / per_dollar));
  const auto inputs = option.ledger.inputs();
  const auto rate = std::find_if(inputs.begin(), inputs.end(),
                                 [](const auto& input) { return input.key == "currency.EUR"; });
  REQUIRE(rate != inputs.end());
  CHECK(rate->source.text.find(demo().catalog.currencies.at("EUR").date) != std::string::npos);
}

TEST_CASE("A unit is parts with their losses, board, placement, programming and test, by the yield") {
  study::Study study = study_of_three();
  study.money.test_yield = exact_range(0.8);
  const Considered lossy = considered_with(study);
  const Considered perfect = considered_with(study_of_three());
  for (const Option& option : perfect.options) {
    INFO(option.id);
    double parts_list = 0;
    double bodies = 0;
    for (const BillLine& line : option.bill) {
      parts_list += line.count * value_of(option, "price." + line.id);
      bodies += line.count;
    }
    const study::Money& money = study.money;
    const double expected =
        parts_list * (1 + money.attrition.range.typical) + bodies * money.placement_cost.range.typical +
        value_of(option, "board_area") * money.board_area_cost.range.typical + money.test_cost.range.typical;
    double programming = 0;
    for (const std::string& id : option.parts) {
      if (const auto figure = option.ledger.find("programming." + id)) {
        programming += figures::evaluate(option.ledger, *figure);
      }
    }
    CHECK(value_of(option, "unit_cost") == Approx(expected + programming));
    CHECK(value_of(option_named(lossy, option.id), "unit_cost") ==
          Approx(value_of(option, "unit_cost") / 0.8));
  }
}

TEST_CASE("Two of a part in a unit are bought twice as often, at the price of that quantity") {
  for (const Option& option : demo().considered.options) {
    for (const BillLine& line : option.bill) {
      if (line.count < 2) continue;
      const auto& all = demo().catalog.external_parts;
      const auto part =
          std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.id == line.id; });
      if (part == all.end()) continue;
      CHECK(value_of(option, "price." + line.id) ==
            Approx(price_at(part->prices, line.count * demo().study.volume_per_year.range.typical / 4, 1)));
    }
  }
}

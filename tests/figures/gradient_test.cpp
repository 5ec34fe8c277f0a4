#include "figures/gradient.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "random_ledger_fixture.hpp"

using namespace portweigh::figures;
using test::Corners;
using test::make_random_ledger;

TEST_CASE("the reverse pass agrees with central differences, for random smooth formulas") {
  for (std::uint32_t seed = 1; seed <= 30; ++seed) {
    const auto made = make_random_ledger(seed, 5, 40, Corners::avoided);
    const auto figure = made.figures.back();
    const auto slopes = gradient(made.ledger, figure);
    const auto typical = input_values(made.ledger);
    for (std::size_t i = 0; i < slopes.size(); ++i) {
      const double step = 1e-5 * typical[i];
      auto moved = typical;
      moved[i] = typical[i] + step;
      const double above = evaluate_all(made.ledger, std::span<const double>(moved))[figure.index()];
      moved[i] = typical[i] - step;
      const double below = evaluate_all(made.ledger, std::span<const double>(moved))[figure.index()];
      INFO("seed " << seed << " input " << i);
      CHECK(slopes[i] == Approx((above - below) / (2.0 * step)).epsilon(1e-5).margin(1e-6));
    }
  }
}

TEST_CASE("corners follow the stated rules") {
  Ledger ledger;
  const auto number = [&](const std::string& key, double value) {
    return ledger.input(
        {.key = key, .label = "", .range = exactly(value), .unit = {}, .source = {}, .correlation = ""});
  };
  const auto a = number("a", 2.5);
  const auto b = number("b", 4.0);
  const LookupTable curve{{0, 3, 5}, {0, 6, 7}, {}, {}, Scale::linear, "curve"};
  using Pair = std::vector<double>;
  CHECK(gradient(ledger, minimum(a, b)) == Pair{1, 0});
  CHECK(gradient(ledger, maximum(a, b)) == Pair{0, 1});
  CHECK(gradient(ledger, minimum(a, a)) == Pair{1, 0});
  CHECK(gradient(ledger, round_up(a)) == Pair{0, 0});
  CHECK(gradient(ledger, at_least(a, b)) == Pair{0, 0});
  CHECK(gradient(ledger, select(at_least(a, b), a, b * b)) == Pair{0, 8});
  CHECK(gradient(ledger, lookup(a, curve)) == Pair{2, 0});
  CHECK(gradient(ledger, lookup(b, curve)) == Pair{0, 0.5});
  CHECK(gradient(ledger, lookup(b * 2.0, curve)) == Pair{0, 0});
  CHECK(gradient(ledger, a) == Pair{1, 0});
  CHECK(gradient(ledger, power(a, 0.0)) == Pair{0, 0});
}

TEST_CASE("elasticities of a product of powers are its exponents") {
  Ledger ledger;
  const auto capacitance = ledger.input({.key = "capacitance",
                                         .label = "",
                                         .range = exactly(1e-9),
                                         .unit = parse_unit("nF"),
                                         .source = {},
                                         .correlation = ""});
  const auto supply = ledger.input({.key = "supply",
                                    .label = "",
                                    .range = exactly(1.2),
                                    .unit = parse_unit("V"),
                                    .source = {},
                                    .correlation = ""});
  const auto energy = 0.1 * capacitance * power(supply, 2.0);
  const auto found = elasticities(ledger, energy);
  CHECK(found[0] == Approx(1.0));
  CHECK(found[1] == Approx(2.0));
  const std::vector<Setting> settings = {{"supply", 0.9}};
  CHECK(gradient(ledger, energy, settings)[1] == Approx(2.0 * 0.1 * 1e-9 * 0.9));
}

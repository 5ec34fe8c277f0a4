#include "figures/evaluation/evaluate.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace portweigh::figures;

namespace {

Figure number(Ledger& ledger, const std::string& key, double typical) {
  return ledger.input(
      {.key = key, .label = key, .range = exactly(typical), .unit = {}, .source = {}, .correlation = ""});
}

}  // namespace

TEST_CASE("every operation gives what its name says") {
  Ledger ledger;
  const auto a = number(ledger, "a", 2.5);
  const auto b = number(ledger, "b", 4.0);
  const auto value = [&](Figure figure) { return evaluate(ledger, figure); };
  CHECK(value(a + b) == 6.5);
  CHECK(value(a - b) == -1.5);
  CHECK(value(a * b) == 10.0);
  CHECK(value(a / b) == 0.625);
  CHECK(value(-a) == -2.5);
  CHECK(value(1.0 + a) == 3.5);
  CHECK(value(a + 1.0) == 3.5);
  CHECK(value(1.0 - a) == -1.5);
  CHECK(value(a - 1.0) == 1.5);
  CHECK(value(2.0 * a) == 5.0);
  CHECK(value(a * 2.0) == 5.0);
  CHECK(value(10.0 / a) == 4.0);
  CHECK(value(a / 2.0) == 1.25);
  CHECK(value(minimum(a, b)) == 2.5);
  CHECK(value(maximum(a, b)) == 4.0);
  CHECK(value(power(a, 2.0)) == 6.25);
  CHECK(value(power(b, 0.5)) == 2.0);
  CHECK(value(power(b, -1.0)) == 0.25);
  CHECK(value(power(b, 1.5)) == Approx(8.0));
  CHECK(value(power(a, b)) == Approx(39.0625));
  CHECK(value(log(b)) == Approx(1.3862943611));
  CHECK(value(exp(a)) == Approx(12.182493961));
  CHECK(value(round_up(a)) == 3.0);
  CHECK(value(round_up(b)) == 4.0);
  CHECK(value(round_down(a)) == 2.0);
  CHECK(value(at_least(a, b)) == 0.0);
  CHECK(value(at_least(b, a)) == 1.0);
  CHECK(value(at_least(a, a)) == 1.0);
  CHECK(value(select(at_least(a, b), a, b)) == 4.0);
  CHECK(value(select(at_least(b, a), a, b)) == 2.5);
  const std::vector<Figure> three = {a, b, a};
  CHECK(value(sum(three)) == 9.0);
}

TEST_CASE("settings move inputs, and only inputs") {
  Ledger ledger;
  const auto a = number(ledger, "a", 2.0);
  const auto b = number(ledger, "b", 3.0);
  const auto product = ledger.name(a * b, "product", "", {});
  const std::vector<Setting> settings = {{"b", 10.0}};
  CHECK(evaluate(ledger, product, settings) == 20.0);
  CHECK(evaluate(ledger, product) == 6.0);
  const std::vector<Setting> computed = {{"product", 1.0}};
  CHECK_THROWS_AS(evaluate(ledger, product, computed), LedgerError);
  const std::vector<Setting> unknown = {{"c", 1.0}};
  CHECK_THROWS_AS(evaluate(ledger, product, unknown), LedgerError);
  const std::vector<double> too_few = {1.0};
  CHECK_THROWS_AS(evaluate_all(ledger, std::span<const double>(too_few)), LedgerError);
}

// Present values against a worked example.
#include "options/money/discounting.hpp"

#include <catch2/catch.hpp>

#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using tests::number;

namespace {

double value_today(const std::vector<double>& flows, double rate) {
  figures::Ledger ledger;
  std::vector<figures::Figure> figures_of_flows;
  for (std::size_t i = 0; i < flows.size(); ++i) {
    figures_of_flows.push_back(number(ledger, "flow" + std::to_string(i), flows[i], "USD"));
  }
  return figures::evaluate(ledger, present_value(figures_of_flows, number(ledger, "rate", rate)));
}

}  // namespace

// Standard textbook example of a net present value, recomputed [C].
TEST_CASE("The present value of a row of payments is that of the textbook") {
  CHECK(value_today({-1000, 500, 400, 300, 100}, 0.10) == Approx(78.81975).epsilon(1e-7));
}

// Check values of net present value [S, C].
TEST_CASE("Investments are worth today what published examples say") {
  std::vector<double> ten(11, 3000);
  ten[0] = -15000;
  CHECK(value_today(ten, 0.10) == Approx(3433.70).epsilon(1e-6));
  CHECK(value_today({-50000, 25000, 20000, 10000, 3000}, 0.12) == Approx(-2710.34).epsilon(1e-5));
  CHECK(value_today({-750000, 200000, 300000, 400000}, 0.10) == Approx(-19722.01).epsilon(1e-6));
}

// Check value [C]: a revision with a chance of 0.3 a year that costs 20000, over 7 years at 8 %.
TEST_CASE("Revisions of later years weigh less") {
  std::vector<double> expected(8, 0.3 * 20000);
  expected[0] = 0;
  CHECK(value_today(expected, 0.08) == Approx(31238.22).epsilon(1e-6));
}

TEST_CASE("Without interest money keeps its value, and later money is worth less with it") {
  CHECK(value_today({-1000, 500, 400, 300, 100}, 0) == Approx(300));
  CHECK(value_today({0, 0, 121}, 0.1) == Approx(100));
}

#include "options/power/temperature.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "figures/evaluation/evaluate.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

figures::Figure constant(figures::Ledger& ledger, double value, const figures::Dimension& dimension) {
  return ledger.constant(value, dimension);
}

double settled(double ambient_k, double theta, double other_w, double supply_v, double leak_a,
               double doubling_k) {
  figures::Ledger ledger;
  namespace dims = figures::dimensions;
  const figures::Figure leakage = settled_leakage_w(
      ledger,
      {constant(ledger, ambient_k, dims::temperature), constant(ledger, theta, dims::thermal_resistance),
       constant(ledger, other_w, dims::power), constant(ledger, supply_v, dims::voltage),
       constant(ledger, leak_a, dims::current), constant(ledger, doubling_k, dims::temperature)});
  return figures::evaluate(ledger, leakage);
}

}  // namespace

TEST_CASE("Leakage doubles with each step of temperature") {
  const double cold = settled(298.15, 0, 0, 3.3, 1e-4, 10);
  CHECK(cold == Approx(3.3e-4));
  CHECK(settled(308.15, 0, 0, 3.3, 1e-4, 10) == Approx(2 * cold));
  CHECK(settled(328.15, 0, 0, 3.3, 1e-4, 10) == Approx(8 * cold));
}

TEST_CASE("The unrolled loop agrees with the fixed point at the powers of port electronics") {
  const LeakageValues values{318.15, 90, 0.05, 3.3, 1e-3, 10};
  const auto temperature = settled_temperature_k(values);
  REQUIRE(temperature);
  const double exact = 3.3 * 1e-3 * std::exp2((*temperature - 298.15) / 10);
  CHECK(settled(318.15, 90, 0.05, 3.3, 1e-3, 10) == Approx(exact).epsilon(1e-3));
}

TEST_CASE("A part whose leakage heats it faster than it can cool runs away") {
  CHECK(settled_temperature_k({338.15, 60, 0.1, 1.2, 2e-3, 10}));
  CHECK_FALSE(settled_temperature_k({358.15, 200, 1.0, 3.3, 0.05, 8}));
}

TEST_CASE("Higher ambient never lowers leakage") {
  double previous = 0;
  for (double ambient_k = 250; ambient_k < 380; ambient_k += 5) {
    const double leakage = settled(ambient_k, 50, 0.01, 1.2, 1e-4, 9);
    CHECK(leakage > previous);
    previous = leakage;
  }
}

// Check value [C], closed form by the Lambert W function: 20 mW at 25 degC that double every 20 K, 0.5 W, 40 K/W,
// 60 degC.
TEST_CASE("The fixed point of leakage is that of its closed form") {
  const auto settled_k = settled_temperature_k({333.15, 40, 0.5, 1, 0.02, 20});
  REQUIRE(settled_k);
  CHECK(*settled_k - 273.15 == Approx(86.81566951).epsilon(1e-9));
  CHECK(settled_temperature_k({333.15, 57.87, 0.5, 1, 0.02, 20}));
  CHECK_FALSE(settled_temperature_k({333.15, 57.88, 0.5, 1, 0.02, 20}));
}

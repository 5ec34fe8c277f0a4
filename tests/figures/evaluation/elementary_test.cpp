// Exponential, logarithm and power against the C library's in extended precision.
#include "figures/evaluation/elementary.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <random>

using namespace portweigh::figures;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// Distance in units of the last place of the exact value.
double units_off(double found, long double exact) {
  const auto near = static_cast<double>(exact);
  const long double unit = std::nextafter(std::abs(near), infinity) - std::abs(near);
  return static_cast<double>(std::abs(static_cast<long double>(found) - exact) / unit);
}

}  // namespace

TEST_CASE("exp and log are within a unit in the last place") {
  std::mt19937_64 random(1);
  std::uniform_real_distribution<double> exponent(-700, 700);
  std::uniform_real_distribution<double> decade(-300, 300);
  double worst_exp = 0;
  double worst_log = 0;
  for (int i = 0; i < 200000; ++i) {
    const double x = i % 2 == 0 ? exponent(random) : exponent(random) / 1000;
    worst_exp = std::max(worst_exp, units_off(exp_of(x), std::exp(static_cast<long double>(x))));
    const double y = i % 2 == 0 ? std::pow(10.0, decade(random)) : 1 + decade(random) / 1000;
    worst_log = std::max(worst_log, units_off(log_of(y), std::log(static_cast<long double>(y))));
  }
  CHECK(worst_exp <= 1.0);
  CHECK(worst_log <= 1.0);
  CHECK(exp_of(0) == 1.0);
  CHECK(log_of(1) == 0.0);
}

TEST_CASE("powers are as near as the header says") {
  std::mt19937_64 random(2);
  std::uniform_real_distribution<double> decade(-8, 8);
  std::uniform_real_distribution<double> exponent(-3, 3);
  double worst = 0;
  for (int i = 0; i < 200000; ++i) {
    const double base = std::pow(10.0, decade(random));
    const double by = exponent(random);
    const long double exact = std::pow(static_cast<long double>(base), static_cast<long double>(by));
    const long double off = std::abs((static_cast<long double>(power_of(base, by)) - exact) / exact);
    worst = std::max(worst, static_cast<double>(off) / (0x1p-52 * (1 + std::abs(by * std::log(base)))));
  }
  CHECK(worst <= 1.0);
}

TEST_CASE("what is out of the ordinary is the C library's") {
  CHECK(exp_of(-infinity) == 0.0);
  CHECK(exp_of(710) == infinity);
  CHECK(std::isnan(exp_of(std::nan(""))));
  CHECK(log_of(0) == -infinity);
  CHECK(std::isnan(log_of(-1)));
  CHECK(log_of(5e-324) == std::log(5e-324));
  CHECK(power_of(0, 1.2) == 0.0);
  CHECK(power_of(-2, 3) == -8.0);
  CHECK(std::isnan(power_of(-2, 0.3)));
  CHECK(power_of(10, 400) == infinity);
  CHECK(power_of(0, 0) == 1.0);
}

#include "exploration/variance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace portweigh;
using namespace portweigh::exploration;

namespace {

constexpr Eigen::Index samples = 1 << 14;

UnitFunction ishigami(double a, double b) {
  return [a, b](const Eigen::ArrayXXd& u) {
    const Eigen::ArrayXXd x = std::numbers::pi * (2 * u - 1);
    return Eigen::ArrayXd(x.col(0).sin() + a * x.col(1).sin().square() +
                          b * x.col(2).pow(4) * x.col(0).sin());
  };
}

UnitFunction sobol_g(std::vector<double> a) {
  return [a = std::move(a)](const Eigen::ArrayXXd& u) {
    Eigen::ArrayXd product = Eigen::ArrayXd::Ones(u.rows());
    for (std::size_t i = 0; i < a.size(); ++i) {
      product *= ((4 * u.col(static_cast<Eigen::Index>(i)) - 2).abs() + a[i]) / (1 + a[i]);
    }
    return product;
  };
}

void check(const Indices& indices, const std::vector<double>& first, const std::vector<double>& total) {
  for (std::size_t i = 0; i < first.size(); ++i) {
    INFO("input " << i);
    CHECK(indices.first[i].value == Approx(first[i]).margin(0.01));
    CHECK(indices.total[i].value == Approx(total[i]).margin(0.01));
    CHECK(indices.first[i].low <= indices.first[i].value + 1e-9);
    CHECK(indices.first[i].high >= indices.first[i].value - 1e-9);
  }
}

}  // namespace

// Exact indices [C]; Ishigami & Homma 1990, Sobol 1993.
TEST_CASE("Ishigami indices are within 0.01 of exact at 2^14 points") {
  const Indices indices = variance_indices(ishigami(7, 0.1), 3, samples, 1);
  CHECK(indices.mean == Approx(3.5).margin(0.01));
  CHECK(indices.variance == Approx(13.844587940719254).epsilon(0.01));
  check(indices, {0.3139051911, 0.4424111448, 0}, {0.5575888552, 0.4424111448, 0.2436836641});
  check(variance_indices(ishigami(7, 0.05), 3, samples, 1), {0.2185185644, 0.6868946436, 0},
        {0.2185185644 + 0.0945867919, 0.6868946436, 0.0945867919});
}

TEST_CASE("Sobol g indices are within 0.01 of exact at 2^14 points") {
  const Indices indices = variance_indices(sobol_g({0, 1, 4.5, 9}), 4, samples, 2);
  CHECK(indices.variance == Approx(0.46522906).epsilon(0.01));
  check(indices, {0.716493, 0.179123, 0.023686, 0.007165}, {0.787370, 0.242268, 0.034327, 0.010463});
  const double s = 9.0 / 37;
  const double st = 16.0 / 37;
  check(variance_indices(sobol_g({0, 0, 0}), 3, samples, 3), {s, s, s}, {st, st, st});
}

TEST_CASE("More samples shrink the error at about the quasi-random rate") {
  const auto error = [](Eigen::Index count) {
    double sum = 0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
      const Indices indices = variance_indices(ishigami(7, 0.1), 3, count, seed);
      sum +=
          std::abs(indices.total[0].value - 0.5575888552) + std::abs(indices.first[1].value - 0.4424111448);
    }
    return sum;
  };
  // 64 times the samples: a random sequence would give an eighth of the error.
  CHECK(error(1 << 14) < error(1 << 8) / 8);
}

TEST_CASE("A figure's drivers are its own inputs, groups counted once, the largest first") {
  figures::Ledger ledger;
  const auto input = [&](const char* key, figures::Range range, const char* group = "") {
    return ledger.input({.key = key,
                         .label = key,
                         .range = range,
                         .unit = figures::parse_unit("1"),
                         .source = {},
                         .correlation = group});
  };
  const auto a = input("a", {0, 5, 10});
  const auto b = input("b", {0, 0.5, 1}, "group");
  const auto c = input("c", {0, 0.5, 1}, "group");
  input("unused", {0, 1, 2});
  const FigureDrivers drivers = figure_drivers(ledger, a + b + c + 3.0, 1 << 12, 1);
  REQUIRE(drivers.drivers.size() == 2);
  CHECK(drivers.drivers[0].coordinate == "a");
  CHECK(drivers.drivers[1].inputs.size() == 2);
  // Variance of a: 100/24; of b + c moving together: 4/24.
  CHECK(drivers.drivers[0].first.value == Approx(100.0 / 104).margin(0.01));
  CHECK(drivers.mean == Approx(9).margin(0.01));
}

#include "figures/evaluation/sampling.hpp"

#include <array>
#include <boost/random/sobol.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace portweigh::figures;

namespace {

Input uncertain(const std::string& key, const Range& range, const std::string& correlation = "") {
  return {.key = key,
          .label = key,
          .range = range,
          .unit = parse_unit("1"),
          .source = {},
          .correlation = correlation};
}

}  // namespace

TEST_CASE("Triangular samples have the mean and variance of the distribution") {
  // [C] mean (a+m+b)/3, variance (a2+m2+b2-am-ab-mb)/18; (2, 4, 12): 6, 4.6667.
  Ledger ledger;
  ledger.input(uncertain("x", {2, 4, 12}));
  const Ledger* ledgers[] = {&ledger};
  const SampleTable table(ledgers, 1 << 14, 7);
  const double* x = table.column("x");
  REQUIRE(x != nullptr);
  double sum = 0;
  double squares = 0;
  for (Eigen::Index i = 0; i < table.count(); ++i) {
    sum += x[i];
    squares += x[i] * x[i];
  }
  const double mean = sum / static_cast<double>(table.count());
  CHECK(mean == Approx(6).margin(1e-3));
  CHECK(squares / static_cast<double>(table.count()) - mean * mean == Approx(4.6667).margin(2e-3));
}

TEST_CASE("The quantile inverts the triangular distribution") {
  const Range range{2, 4, 12};
  CHECK(triangular_quantile(range, 0) == Approx(2));
  CHECK(triangular_quantile(range, 0.2) == Approx(4));
  CHECK(triangular_quantile(range, 1) == Approx(12));
  // F(x) = 1 - (b-x)^2 / ((b-a)(b-m)) right of the mode.
  CHECK(triangular_quantile(range, 1 - 16.0 / 80.0) == Approx(8));
}

TEST_CASE("Sobol points integrate faster than random ones and differ by seed") {
  const auto error = [](Eigen::Index count, std::uint64_t seed) {
    const Eigen::ArrayXXd points = sobol_points(count, 5, seed);
    // The integral of the product of 2u over the unit cube is one.
    return std::abs((2 * points).rowwise().prod().mean() - 1);
  };
  CHECK(error(1 << 14, 1) < 1e-3);
  CHECK(error(1 << 14, 1) < error(1 << 8, 1));
  CHECK((sobol_points(8, 2, 1) != sobol_points(8, 2, 2)).any());
  CHECK((sobol_points(8, 2, 3) == sobol_points(8, 2, 3)).all());
}

// Boost.Random's own generator, drawn point by point.
TEST_CASE("Columns made from directions are those of the generator") {
  constexpr std::size_t dimensions = 7;
  const Eigen::ArrayXXd points = sobol_points(1000, dimensions, 4);
  boost::random::sobol generator(dimensions);
  std::mt19937_64 random(4);
  std::array<std::uint64_t, dimensions> shift{};
  for (std::uint64_t& bits : shift) bits = random();
  for (Eigen::Index row = 0; row < points.rows(); ++row) {
    for (std::size_t column = 0; column < dimensions; ++column) {
      const double expected = static_cast<double>((generator() ^ shift[column]) >> 11U) * 0x1p-53;
      REQUIRE(points(row, static_cast<Eigen::Index>(column)) == Approx(expected).margin(0x1p-52));
    }
  }
}

TEST_CASE("The table is the same for any number of threads, and each column has the quantiles of its range") {
  Ledger ledger;
  for (int i = 0; i < 9; ++i) ledger.input(uncertain("x" + std::to_string(i), {0, 0.1 * i, 1}));
  ledger.input(uncertain("group a", {1, 2, 3}, "group"));
  ledger.input(uncertain("group b", {1, 1, 4}, "group"));
  const Ledger* ledgers[] = {&ledger};
  const SampleTable one(ledgers, 777, 3);
  const SampleTable three(ledgers, 777, 3, 3);
  REQUIRE(one.coordinates().size() == 10);
  CHECK(one.coordinates()[0].name == "group");
  CHECK(one.coordinates()[0].inputs == std::vector<std::string>{"group a", "group b"});
  CHECK(one.coordinates()[1].name == "x0");
  const Eigen::ArrayXXd points = sobol_points(777, 10, 3);
  for (Eigen::Index i = 0; i < 777; ++i) {
    REQUIRE(one.column("x4")[i] == three.column("x4")[i]);
    REQUIRE(one.column("x0")[i] == triangular_quantile({0, 0, 1}, points(i, 1)));
    REQUIRE(one.column("group b")[i] == triangular_quantile({1, 1, 4}, points(i, 0)));
  }
}

TEST_CASE("A table that holds some samples at a time moves through those of the whole") {
  Ledger ledger;
  // More inputs than there are Sobol dimensions, so that the last ones are random.
  for (int i = 0; i < 3669; ++i) ledger.input(uncertain("x" + std::to_string(i), {0, 0.5, 1}));
  const Ledger* ledgers[] = {&ledger};
  const SampleTable whole(ledgers, 250, 3);
  SampleTable part(ledgers, 250, 3, 2, 100);
  for (const Eigen::Index first : {0, 100, 200, 37}) {
    if (first > 0) part.move_to(first);
    REQUIRE(part.count() == std::min<Eigen::Index>(100, 250 - first));
    Eigen::Index different = 0;
    for (const auto& coordinate : whole.coordinates()) {
      const double* expected = whole.column(coordinate.name) + first;
      const double* found = part.column(coordinate.name);
      for (Eigen::Index i = 0; i < part.count(); ++i) different += found[i] == expected[i] ? 0 : 1;
    }
    CHECK(different == 0);
  }
}

TEST_CASE("Inputs of one group move together, others do not, exact inputs have no column") {
  Ledger ledger;
  ledger.input(uncertain("a", {1, 2, 3}, "prices"));
  ledger.input(uncertain("b", {10, 20, 30}, "prices"));
  ledger.input(uncertain("c", {1, 2, 3}));
  ledger.input(uncertain("exact", exactly(5)));
  const Ledger* ledgers[] = {&ledger};
  const SampleTable table(ledgers, 64, 1);
  CHECK(table.dimensions() == 2);
  CHECK(table.column("exact") == nullptr);
  for (Eigen::Index i = 0; i < 64; ++i) {
    CHECK(table.column("b")[i] == Approx(10 * table.column("a")[i]));
  }
  bool differs = false;
  for (Eigen::Index i = 0; i < 64; ++i) differs = differs || table.column("a")[i] != table.column("c")[i];
  CHECK(differs);
}

TEST_CASE("The table does not depend on the order in which ledgers are given") {
  Ledger first;
  first.input(uncertain("x", {0, 1, 2}));
  Ledger second;
  second.input(uncertain("y", {0, 1, 2}));
  second.input(uncertain("x", {0, 1, 2}));
  const Ledger* one_way[] = {&first, &second};
  const Ledger* other_way[] = {&second, &first};
  const SampleTable a(one_way, 32, 9);
  const SampleTable b(other_way, 32, 9);
  for (Eigen::Index i = 0; i < 32; ++i) {
    CHECK(a.column("x")[i] == b.column("x")[i]);
    CHECK(a.column("y")[i] == b.column("y")[i]);
  }
}

TEST_CASE("more inputs than there are Sobol dimensions are sampled all the same, each on its own") {
  const Eigen::ArrayXXd points = sobol_points(64, 3670, 1);
  REQUIRE(points.cols() == 3670);
  CHECK((points > 0).all());
  CHECK((points < 1).all());
  CHECK((points.col(3667) != points.col(3668)).all());
  CHECK(points.col(3669).mean() == Approx(0.5).margin(0.2));
  CHECK((sobol_points(64, 3670, 1) == points).all());
}

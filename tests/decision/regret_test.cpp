#include "decision/regret.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::decision;

namespace {

// In two parts where there are enough samples.
std::vector<Regret> regrets_of(const Eigen::ArrayXXd& worth) {
  RegretSums sums(static_cast<std::size_t>(worth.cols()));
  const Eigen::Index half = worth.rows() / 2;
  sums.add(worth.topRows(half));
  sums.add(worth.bottomRows(worth.rows() - half));
  return sums.result();
}

}  // namespace

TEST_CASE("Worth, regret and the two choices of the worked example") {
  Eigen::ArrayXXd worth(2, 2);
  worth << 1, 0.4, 0, 0.5;
  const auto regrets = regrets_of(worth);
  REQUIRE(regrets.size() == 2);
  CHECK(regrets[0].expected_worth == Approx(0.5));
  CHECK(regrets[1].expected_worth == Approx(0.45));
  CHECK(regrets[0].largest == Approx(0.5));
  CHECK(regrets[1].largest == Approx(0.6));
  CHECK(regrets[0].mean == Approx(0.25));
  CHECK(regrets[1].mean == Approx(0.3));
  CHECK(expected_choice(regrets) == 0U);
  CHECK(robust_choice(regrets) == 0U);
}

TEST_CASE("The robust choice need not be the expected one") {
  // Three samples: a gamble that is best on average, and a middle way that never misses much.
  Eigen::ArrayXXd worth(3, 3);
  worth << 1.0, 0.6, 0.0, 1.0, 0.6, 0.9, -0.9, 0.2, 0.3;
  const auto regrets = regrets_of(worth);
  CHECK(expected_choice(regrets) == 1U);
  CHECK(robust_choice(regrets) == 1U);
  worth(2, 0) = -0.1;
  const auto milder = regrets_of(worth);
  CHECK(expected_choice(milder) == 0U);
  CHECK(robust_choice(milder) == 0U);
  worth(0, 1) = 0.75;
  worth(1, 1) = 0.75;
  worth(2, 1) = -0.09;
  worth(2, 2) = 0.35;
  // Gamble: mean 0.633, largest regret 0.45; middle way: mean 0.47, largest regret 0.44.
  const auto near = regrets_of(worth);
  CHECK(expected_choice(near) == 0U);
  CHECK(robust_choice(near) == 1U);
}

TEST_CASE("Nothing to choose from") {
  CHECK_FALSE(robust_choice({}));
  CHECK_FALSE(expected_choice({}));
  CHECK(regrets_of(Eigen::ArrayXXd(0, 2)).size() == 2);
}

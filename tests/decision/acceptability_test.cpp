#include "decision/acceptability.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::decision;

namespace {

Eigen::ArrayXXd rows(std::initializer_list<std::initializer_list<double>> values) {
  Eigen::ArrayXXd array(static_cast<Eigen::Index>(values.size()),
                        static_cast<Eigen::Index>(values.begin()->size()));
  Eigen::Index r = 0;
  for (const auto& row : values) {
    Eigen::Index c = 0;
    for (const double value : row) array(r, c++) = value;
    ++r;
  }
  return array;
}

constexpr Eigen::Index draws = 1 << 16;

Acceptability rank_acceptability(const std::vector<Alternative>& alternatives, const Eigen::ArrayXXd& weights,
                                 unsigned threads = 1) {
  RankCounts counts(alternatives.size(), static_cast<std::size_t>(weights.cols()));
  counts.add(alternatives, weights, threads);
  return counts.result();
}

// The same values in every draw (alternatives x criteria), counted in two parts.
Acceptability rank_acceptability(const Eigen::ArrayXXd& values, Eigen::Index count, std::uint64_t seed) {
  std::vector<Alternative> alternatives;
  for (Eigen::Index i = 0; i < values.rows(); ++i) alternatives.push_back({values.row(i), {}});
  const Eigen::ArrayXXd weights = simplex_weights(count, values.cols(), seed);
  RankCounts counts(alternatives.size(), static_cast<std::size_t>(values.cols()));
  counts.add(alternatives, weights.topRows(1000));
  counts.add(alternatives, weights.bottomRows(count - 1000));
  return counts.result();
}

}  // namespace

// SMAA-2, Lahdelma & Salminen, Oper. Res. 49(3), 2001; analytic shares [C].
TEST_CASE("Two criteria: shares of every rank and central weights are the analytic ones") {
  const Acceptability result = rank_acceptability(rows({{1, 0}, {0, 1}, {0.6, 0.6}}), draws, 1);
  const double expected[3][3] = {{0.4, 0.1, 0.5}, {0.4, 0.1, 0.5}, {0.2, 0.8, 0.0}};
  for (Eigen::Index i = 0; i < 3; ++i) {
    for (Eigen::Index r = 0; r < 3; ++r)
      CHECK(result.rank_shares(i, r) == Approx(expected[i][r]).margin(0.005));
  }
  REQUIRE(result.central_weights[0]);
  CHECK((*result.central_weights[0])(0) == Approx(0.8).margin(0.005));
  CHECK((*result.central_weights[1])(0) == Approx(0.2).margin(0.005));
  CHECK((*result.central_weights[2])(0) == Approx(0.5).margin(0.005));
}

TEST_CASE("Three unit vectors share the first rank equally") {
  const Acceptability result = rank_acceptability(rows({{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}), draws, 2);
  for (Eigen::Index i = 0; i < 3; ++i) CHECK(result.rank_shares(i, 0) == Approx(1.0 / 3).margin(0.005));
}

TEST_CASE("A compromise beside three unit vectors is first with 1 - 3 (1 - t)^2") {
  for (const double t : {0.5, 0.6, 0.75}) {
    const Acceptability result =
        rank_acceptability(rows({{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {t, t, t}}), draws, 3);
    CHECK(result.rank_shares(0, 0) == Approx((1 - t) * (1 - t)).margin(0.005));
    CHECK(result.rank_shares(3, 0) == Approx(1 - 3 * (1 - t) * (1 - t)).margin(0.005));
  }
}

TEST_CASE("An alternative can be non-dominated and yet never first") {
  const Acceptability result = rank_acceptability(rows({{1, 0}, {0, 1}, {0.4, 0.4}}), draws, 4);
  CHECK(result.rank_shares(2, 0) == 0);
  CHECK_FALSE(result.central_weights[2]);
}

// [C] values (u, 0.5) against (0.5, 0.5) with u uniform: first where u > 0.5; never first where it isn't
// possible.
TEST_CASE("Uncertain values: shares, central weights, and draws in which an alternative isn't possible") {
  const Eigen::ArrayXXd weights = simplex_weights(draws, 2, 5);
  Eigen::ArrayXXd uncertain = Eigen::ArrayXXd::Constant(draws, 2, 0.5);
  for (Eigen::Index i = 0; i < draws; ++i) {
    uncertain(i, 0) = (static_cast<double>(i) + 0.5) / static_cast<double>(draws);
  }
  std::vector<Alternative> alternatives = {{uncertain, {}}, {rows({{0.5, 0.5}}), {}}};
  const Acceptability both = rank_acceptability(alternatives, weights);
  CHECK(both.rank_shares(0, 0) == Approx(0.5).margin(0.005));
  CHECK(both.rank_shares(1, 0) == Approx(0.5).margin(0.005));
  CHECK((*both.central_weights[0])(0) == Approx(0.5).margin(0.005));
  alternatives[0].is_possible = (uncertain.col(0) < 0.75).cast<double>();
  const Acceptability limited = rank_acceptability(alternatives, weights);
  CHECK(limited.rank_shares(0, 0) == Approx(0.25).margin(0.005));
  CHECK(limited.rank_shares(0, 1) == Approx(0.5).margin(0.005));
  CHECK(limited.rank_shares(1, 0) == Approx(0.75).margin(0.005));
  alternatives[1].is_possible = Eigen::ArrayXd::Zero(draws);
  CHECK(rank_acceptability(alternatives, weights).rank_shares(0, 0) == Approx(0.75).margin(0.005));
  CHECK_FALSE(rank_acceptability(alternatives, weights).central_weights[1]);
}

TEST_CASE("Acceptability is the same for any number of threads") {
  const Eigen::ArrayXXd weights = simplex_weights(3000, 3, 8);
  std::vector<Alternative> alternatives;
  for (std::uint64_t i = 0; i < 7; ++i) alternatives.push_back({simplex_weights(3000, 3, 20 + i), {}});
  const Acceptability one = rank_acceptability(alternatives, weights, 1);
  const Acceptability five = rank_acceptability(alternatives, weights, 5);
  CHECK((one.rank_shares == five.rank_shares).all());
  for (std::size_t i = 0; i < 7; ++i) CHECK((*one.central_weights[i] == *five.central_weights[i]).all());
}

// Hwang & Yoon 1981 [M+C]: speed, range, payload, cost (less is better), reliability, manoeuvrability.
TEST_CASE("The fighter example: distances to ideal and weighted sums disagree on the first") {
  const Eigen::ArrayXXd values = rows({{2.0, 1500, 20000, 5.5, 5, 9},
                                       {2.5, 2700, 18000, 6.5, 3, 5},
                                       {1.8, 2000, 21000, 4.5, 7, 7},
                                       {2.2, 1800, 20000, 5.0, 5, 5}});
  Eigen::ArrayXd weights(6);
  weights << 0.2, 0.1, 0.1, 0.1, 0.2, 0.3;
  const Eigen::ArrayXd closeness = topsis(values, weights, {true, true, true, false, true, true});
  const double expected[] = {0.643277, 0.268384, 0.613542, 0.312291};
  for (Eigen::Index i = 0; i < 4; ++i) CHECK(closeness(i) == Approx(expected[i]).margin(1e-6));
  Eigen::ArrayXXd scaled = values;
  for (Eigen::Index c = 0; c < 6; ++c) {
    if (c == 3) {
      scaled.col(c) = values.col(c).minCoeff() / values.col(c);
    } else {
      scaled.col(c) = values.col(c) / values.col(c).maxCoeff();
    }
  }
  const Eigen::ArrayXd sums = (scaled.matrix() * weights.matrix()).array();
  const double expected_sums[] = {0.835469, 0.707326, 0.851407, 0.737429};
  for (Eigen::Index i = 0; i < 4; ++i) CHECK(sums(i) == Approx(expected_sums[i]).margin(1e-6));
  Eigen::Index by_distance = 0;
  Eigen::Index by_sum = 0;
  closeness.maxCoeff(&by_distance);
  sums.maxCoeff(&by_sum);
  CHECK(by_distance == 0);
  CHECK(by_sum == 2);
}

TEST_CASE("Weights drawn from the simplex sum to one and have equal means") {
  const Eigen::ArrayXXd weights = simplex_weights(1 << 12, 4, 9);
  for (Eigen::Index row = 0; row < weights.rows(); ++row) CHECK(weights.row(row).sum() == Approx(1));
  for (Eigen::Index c = 0; c < 4; ++c) CHECK(weights.col(c).mean() == Approx(0.25).margin(0.002));
  CHECK(swing_weights({100, 50, 50}, {1, 1, 1})(0) == Approx(0.5));
  CHECK(swing_weights({100, 50}, {0.2, 0.4})(0) == Approx(0.8));
  CHECK(swing_weights({100, 50}, {0.0, 0.4})(0) == 0);
}

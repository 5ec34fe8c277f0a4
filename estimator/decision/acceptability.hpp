// How the order depends on priorities: rank acceptability under all possible weights, and a second opinion.
//
// SMAA-2 (Lahdelma & Salminen, Oper. Res. 49(3), 2001): weights are drawn uniformly from the simplex; the
// share of draws in which an alternative gets rank r is its acceptability of that rank; the mean of the
// weights with which it is first is its central weight: the priorities of someone who would choose it. Values
// are linear, larger is better. Ties share a rank's draw with the earlier alternative.
//
// TOPSIS (Hwang & Yoon 1981): columns divided by their Euclidean length, weighted; closeness = d- / (d+ +
// d-), the distances to the worst and the best corner. It may disagree with weighted sums (rank reversal),
// which is a warning. Tested by tests/decision/acceptability_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <vector>

namespace portweigh::decision {

struct Acceptability {
  Eigen::ArrayXXd rank_shares;                                 // alternatives x ranks
  std::vector<std::optional<Eigen::ArrayXd>> central_weights;  // none where never first
};

// `values`: alternatives x criteria, in 0..1 or any common scale.
Acceptability rank_acceptability(const Eigen::ArrayXXd& values, Eigen::Index draws, std::uint64_t seed);

// `count` rows of `criteria` weights, uniform on the simplex (gaps of sorted quasi-random numbers).
Eigen::ArrayXXd simplex_weights(Eigen::Index count, Eigen::Index criteria, std::uint64_t seed);

// Closeness of each alternative, 0..1. `larger_is_better` for each criterion.
Eigen::ArrayXd topsis(const Eigen::ArrayXXd& values, const Eigen::ArrayXd& weights,
                      const std::vector<bool>& larger_is_better);

// Rank-order-centroid weights: w_k = (1/n) sum over i >= k of 1/i, for criteria given most important first.
Eigen::ArrayXd rank_order_centroid(Eigen::Index criteria);

// Weights by swing: each criterion's points (100 for the most important swing), normalised.
Eigen::ArrayXd swing_weights(const std::vector<double>& points);

}  // namespace portweigh::decision

// How the order depends on priorities: rank acceptability under all possible weights, and a second opinion.
//
// SMAA-2 (Lahdelma & Salminen, Oper. Res. 49(3), 2001): in each draw the weights come uniformly from the
// simplex and the values from the uncertain figures; the share of draws in which an alternative gets rank r
// is its acceptability of that rank; the mean of the weights with which it is first is its central weight:
// the priorities of someone who would choose it. Values are linear, larger is better. Ties share a rank's
// draw with the earlier alternative. An alternative that isn't possible in a draw gets no rank there.
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

struct Alternative {
  Eigen::ArrayXXd values;      // draws x criteria, or one row: the same in every draw
  Eigen::ArrayXd is_possible;  // 1 or 0 for each draw; empty: always
};

struct Acceptability {
  Eigen::ArrayXXd rank_shares;                                 // alternatives x ranks
  std::vector<std::optional<Eigen::ArrayXd>> central_weights;  // none where never first
};

// Draws may come in several parts; what is kept doesn't grow with them.
class RankCounts {
 public:
  RankCounts(std::size_t alternatives, std::size_t criteria);

  // `weights`: draws x criteria. The result is the same for any number of threads.
  void add(const std::vector<Alternative>& alternatives, const Eigen::ArrayXXd& weights,
           unsigned threads = 1);
  [[nodiscard]] Acceptability result() const;

 private:
  Eigen::Index draws_ = 0;
  Eigen::ArrayXXd ranks_;          // alternatives x ranks
  Eigen::ArrayXXd first_weights_;  // alternatives x criteria: sums over the draws in which each is first
};

// `count` rows of `criteria` weights, uniform on the simplex (gaps of sorted quasi-random numbers), in random
// order, so that they can be paired with other quasi-random samples.
Eigen::ArrayXXd simplex_weights(Eigen::Index count, Eigen::Index criteria, std::uint64_t seed);

// Closeness of each alternative, 0..1. `larger_is_better` for each criterion.
Eigen::ArrayXd topsis(const Eigen::ArrayXXd& values, const Eigen::ArrayXd& weights,
                      const std::vector<bool>& larger_is_better);

// Weights by swing, normalised: points of each criterion's step from its worst to its best value (100 for the
// most important one) by the width of that step, in the unit that the weight is for; none where there is no
// step. Example: 100 points for 0.2 and 50 for 0.4 weigh 0.8 and 0.2.
Eigen::ArrayXd swing_weights(const std::vector<double>& points, const std::vector<double>& widths);

}  // namespace portweigh::decision

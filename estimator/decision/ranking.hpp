// Ranking options against the budgets of a study, with the certainty of the order.
//
// Order: (1) options that meet every hard budget and implied limit at typical values; (2) the probability of
// meeting them all, in steps of one percent, since finer steps are within its sampling error; (3) among
// those that don't meet them, the worst excess over a hard limit (options/limits.hpp), so that the nearest to
// fitting comes first; (4) the weighted margin, the mean of the margins to all budgets weighted by the study;
// (5) the values of the budgets' figures in the study's order; (6) the id.
//   margin = (limit - value) / limit, wanted margins taken off, between -1 and 1
// An option is dominated where another is no worse in (1) to (3) nor in any budget's figure, and better in
// one of the figures. The other then comes earlier, so the first is never dominated.
// Beside the order stands what would change it: the share of samples and weights in which an option is first
// and the weights of someone who would choose it (acceptability.hpp; each sample has weights of its own, and
// an option that breaks a hard limit in it has no rank there); the worth and regret of each choice
// (regret.hpp); and a second opinion at typical values, by distances to the best and the worst corner of all
// budgets' figures. Tested by tests/decision/ranking_test.cpp.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "decision/option_samples.hpp"
#include "decision/regret.hpp"
#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::decision {

struct FigureSummary {
  double value = 0;  // SI, all inputs typical
  double low = 0;    // 5 % point of the samples
  double high = 0;   // 95 % point
  figures::Unit unit;
};

struct BudgetResult {
  std::string figure;
  double limit = 0;
  double value = 0;
  double margin = 0;
  bool meets = false;
  double probability = 0;
  bool is_hard = false;
  bool is_implied = false;  // a limit of the option itself, not of the study
  figures::Unit unit;
  std::string meaning;
};

struct RankedOption {
  std::size_t option = 0;  // index in the list that was ranked
  unsigned rank = 0;       // from 1
  bool meets_budgets = false;
  double probability_meets_budgets = 0;
  double standard_error = 0;
  double first_rank_share = 0;
  std::vector<double> rank_shares;  // from the first rank on
  // For each of the study's budgets, in their order; empty where the option is never first.
  std::vector<double> central_weights;
  Regret regret;
  std::optional<double> closeness;  // of the second opinion, 0..1; none for options it leaves out
  double weighted_margin = 0;
  // Of the hard limits, times what is allowed (1: just met); what the margin, which ends at -1, can't tell.
  double worst_excess = 0;
  bool is_dominated = false;
  std::string dominated_by;
  std::map<std::string, FigureSummary> figures;
  std::vector<BudgetResult> budgets;  // the study's, then the implied limits
};

struct Ranking {
  std::vector<RankedOption> ranked;  // best first
  Sampling sampling;
  // Places in `ranked`; none where there is nothing to choose from.
  std::optional<std::size_t> expected_choice;  // largest mean worth
  std::optional<std::size_t> robust_choice;    // least largest regret
  std::optional<std::size_t> second_opinion;   // largest closeness
};

// The options in the order of the ranking, without the shares, regrets and second opinion that don't
// decide it: quicker.
std::vector<RankedOption> in_order(const std::vector<options::Option>& options, const study::Study& study,
                                   const Sampling& sampling);

// The same for any number of threads. `worth`, if given, becomes the worth of each option: samples x options.
Ranking rank(const std::vector<options::Option>& options, const study::Study& study, const Sampling& sampling,
             Eigen::ArrayXXd* worth = nullptr);

}  // namespace portweigh::decision

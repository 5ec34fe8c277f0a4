// Ranking options against the budgets of a study, with the certainty of the order.
//
// Order: (1) options that meet every hard budget and implied limit at typical values; (2) the probability of
// meeting them all, in steps of one percent, since finer steps are within its sampling error; (3) the
// weighted margin, the mean of the margins to all budgets weighted by the study; (4) the id.
//   margin = (limit - value) / limit, wanted margins taken off, between -1 and 1
// Samples: one table for all options (figures/sampling.hpp). First-rank share: the share of samples, each
// with weights drawn uniformly from all possible ones, in which the option meets its hard budgets and has the
// largest weighted margin (SMAA-2; Lahdelma & Salminen, Oper. Res. 49(3), 2001). Tested by
// tests/decision/ranking_test.cpp.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

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
  double weighted_margin = 0;
  bool is_dominated = false;  // another option is no worse in every budget's figure and better in one
  std::string dominated_by;
  std::map<std::string, FigureSummary> figures;
  std::vector<BudgetResult> budgets;  // the study's, then the implied limits
};

struct Sampling {
  unsigned samples = 4096;
  std::uint64_t seed = 1;
  unsigned threads = 2;
};

struct Ranking {
  std::vector<RankedOption> ranked;  // best first
  Sampling sampling;
};

Ranking rank(const std::vector<options::Option>& options, const study::Study& study,
             const Sampling& sampling);

}  // namespace portweigh::decision

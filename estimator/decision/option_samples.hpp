// All options over one table of samples: figures, margins to the budgets, and which samples keep the limits.
//
//   worth of an option in a sample = its weighted margin (options/limits.hpp) where it keeps every hard
//   budget and implied limit, otherwise -1, the lowest margin there is
// so that an option that breaks a hard limit is never worth more than one that keeps it. The options share
// the samples: an input that several use (volume, labour rate, a price group) has the same value for all of
// them. Samples come in blocks, so that memory doesn't grow with their number; in a block, options are
// evaluated in groups of neighbours, which have most of their formulas in common. The result is the same for
// any number of threads.
// Tested by tests/decision/option_samples_test.cpp.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "decision/acceptability.hpp"
#include "figures/evaluation/sampling.hpp"
#include "options/limits.hpp"
#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::decision {

struct Sampling {
  unsigned samples = 4096;
  std::uint64_t seed = 1;
  unsigned threads = 2;
};

// What the samples tell of one option.
struct OptionSamples {
  std::vector<std::string> keys;                 // figures
  std::vector<double> typical;                   // of each, SI
  std::vector<std::pair<double, double>> range;  // of each, the 5 % and 95 % points of its samples, SI
  std::vector<options::Limit> limits;      // those whose figure the option has: the study's, then the implied
  std::vector<std::size_t> limit_figures;  // place of each limit's figure among `keys`
  std::vector<double> shares_met;          // share of samples in which each limit is kept
  double share_possible = 0;               // in which every hard limit is kept
};

// Consecutive samples of all options, in the order given. Values are margins to the study's budgets, 0 where
// the option lacks the figure; an option is possible where every hard limit is kept.
struct SampleBlock {
  Eigen::Index first = 0;
  Eigen::Index count = 0;
  std::vector<Alternative> options;
};

inline constexpr Eigen::Index block_size = 4096;

// How many options are evaluated together. Neighbours have most formulas in common; with more of them, what
// is shared stays unread for longer and no longer fits into the cache.
inline constexpr std::size_t group_size = 32;

// Calls `take` with one block after the other.
std::vector<OptionSamples> sample_options(const std::vector<options::Option>& options,
                                          const study::Study& study, const Sampling& sampling,
                                          const std::function<void(const SampleBlock&)>& take);

// The inputs of the same samples, all of them or `held` at a time.
figures::SampleTable sample_inputs(const std::vector<options::Option>& options, const Sampling& sampling,
                                   Eigen::Index held = 0);

// Samples x options.
Eigen::ArrayXXd worth_of(const SampleBlock& block, const study::Study& study);

}  // namespace portweigh::decision

// Which clock and core voltage each option is listed with.
//
// Every setting of an option's microcontroller or soft processor that is worth a comparison is an alternative with its own sureness:
// a slow clock takes less power, a fast one keeps the deadlines more surely. The one that the ranking's rule puts
// first is the option; the others are kept beside it. So an allowed clock or operating point can only help a
// part. Tested by tests/decision/clock_settings_test.cpp.
#pragma once

#include <vector>

#include "decision/ranking.hpp"
#include "options/search/consider.hpp"

namespace portweigh::decision {

// What a setting that was not taken would be like.
struct SettingSummary {
  std::string option;   // id
  std::string setting;  // "8 MHz and 1.00 V"
  bool meets_budgets = false;
  double probability_meets_budgets = 0;
  double active_w = 0;
  double average_w = 0;
};

// Exchanges options of `considered` (of consider_settings) for their best settings and leaves it without others;
// they are summed up in the order of the options, best first.
std::vector<SettingSummary> take_best_settings(options::Considered& considered, const study::Study& study,
                                               const Sampling& sampling);

// All options of a study, each with its best settings by the study's weights. `others`: where the rest is summed up.
options::Considered consider_best_settings(const options::Context& context, const Sampling& sampling,
                                           std::vector<SettingSummary>* others = nullptr);

}  // namespace portweigh::decision

// What a report says beyond the ranking: who leads where, what would change the leader, what drives its
// figures, and how the order depends on priorities.
//
//   winner map    leader over clock rate x duty cycle, other inputs typical (exploration/field.hpp)
//   flips         the nearest change of each input that makes another option lead
//   drivers       variance-based indices of the leader's budgeted figures
//   rank shares   the ranking's, for the first ranks and the options that get them at all
// Tested by tests/report/document/analysis_test.cpp.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "report/saved/run.hpp"
#include "report/terminal/exploration_text.hpp"

namespace portweigh::report {

struct WinnerMap {
  std::vector<double> clock_rates_hz;  // across
  std::vector<double> duty_cycles;     // down
  std::vector<std::string> leaders;    // option ids, "" where none is feasible; clock rate runs fastest
};

struct RankShares {
  std::vector<std::string> options;
  Eigen::ArrayXXd shares;  // options x ranks
};

struct Analysis {
  // The feasible option with the largest weighted margin at typical values, from which flips and winner map
  // start. The ranking may put a surer one first.
  std::string typical_leader;
  WinnerMap winner_map;  // empty where no option has a clock of its own
  Sensitivity sensitivity;
  RankShares rank_shares;
};

// The run must have at least one option; otherwise everything is empty.
Analysis analyse(const Run& run);

// The options that a report shows: the best ones, the best of each kind, and all that lead somewhere in the
// winner map or after a flip. Positions in run.ranking.ranked, best first.
std::vector<std::size_t> shown_options(const Run& run, const Analysis& analysis);

}  // namespace portweigh::report

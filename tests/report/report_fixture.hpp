// A small run made by hand: three options, a few inputs, two hard budgets and a wish. Every value is exact
// enough to be worked out on paper.
#pragma once

#include "report/saved/run.hpp"

namespace portweigh::tests {

struct SmallRun {
  double alpha_price = 1.0;                          // money
  double duty_cycle = 0.01;                          //
  double cost_limit = 3.0;                           // money
  std::string study_name = "small";                  //
  std::string second_id = "mc-beta";                 // of the option that comes second
  std::string exclusion_reason = "one source only";  // of ff-omega, which the study leaves out
};

// Prices: alpha (fixed function) as asked, beta (microcontroller) 2, gamma (programmable logic) 2.5; powers:
// 4, 6 and 2 mW while active, times the duty cycle on average. Ranges of prices are -10 % and +20 %, of
// powers +-25 %.
report::Run small_run(const SmallRun& wanted = {});

// No option at all, two rejections for one reason.
report::Run empty_run();

}  // namespace portweigh::tests

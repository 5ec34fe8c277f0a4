// The limits an option is measured against: the study's budgets, and those of the option itself.
//
//   margin = (allowed - value) / allowed,  allowed = limit x (1 - wanted margin); kept between -1 and 1
//   score  = mean of the margins to the study's budgets, weighted by the study
// Tested by tests/options/limits_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::options {

struct Limit {
  std::string figure;
  double limit = 0;          // SI
  double wanted_margin = 0;  // share of the limit
  double weight = 0;
  bool is_hard = true;
  bool is_implied = false;  // of the option, not of the study
  figures::Unit unit;
  std::string meaning;
};

// The study's budgets in its order, then the implied limits.
std::vector<Limit> limits_of(const Option& option, const study::Study& study);

double margin_of(const Limit& limit, double value);
bool meets(const Limit& limit, double value);

}  // namespace portweigh::options

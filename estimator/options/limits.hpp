// The limits an option is measured against: the study's budgets, and those of the option itself.
//
//   allowed = zero + (limit - zero) (1 - wanted margin)
//   excess  = (value - zero) / (allowed - zero)           1: just allowed; 4.6: 4.6 times as much
//   margin  = (allowed - value) / (allowed - zero) = 1 - excess, kept between -1 and 1
//   score   = mean of the margins to the study's budgets, weighted by the study
// `zero` is nothing for all figures but temperatures. A part is never colder than the air around it, so a
// temperature counts from the study's typical ambient: 30 degC of 85 degC in air of 25 degC uses 5 of 60 K, a
// margin of +92 %. Where the ambient leaves less than 1 K below the limit, or lies above it, zero is 1 K
// below the limit, so that margins stay defined and fall as temperatures rise. Tested by
// tests/options/limits_test.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "options/option.hpp"
#include "study/study.hpp"

namespace portweigh::options {

// The input from whose value temperatures count.
inline constexpr std::string_view ambient_key = "study.ambient";

// The excess over a limit of nothing.
inline constexpr double endless_excess = 1e9;

struct Limit {
  std::string figure;
  double limit = 0;          // SI
  double wanted_margin = 0;  // share of the limit
  double weight = 0;
  bool is_hard = true;
  bool is_implied = false;  // of the option, not of the study
  figures::Unit unit;
  std::string meaning;
  double zero = 0;  // SI, from which margins count
};

// The study's budgets in its order, then the implied limits.
std::vector<Limit> limits_of(const Option& option, const study::Study& study);

// From where values of a figure of this dimension count towards the limit (SI), at an ambient in kelvin.
double zero_of(const figures::Dimension& dimension, double limit, double ambient_k);

double allowed_of(const Limit& limit);
double excess_of(const Limit& limit, double value);
double margin_of(const Limit& limit, double value);
bool meets(const Limit& limit, double value);

}  // namespace portweigh::options

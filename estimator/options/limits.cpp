#include "options/limits.hpp"

#include <algorithm>

namespace portweigh::options {

std::vector<Limit> limits_of(const Option& option, const study::Study& study) {
  std::vector<Limit> limits;
  for (const study::Budget& budget : study.budgets) {
    limits.push_back({budget.figure, budget.limit_si, budget.margin, budget.weight,
                      budget.strength == study::Strength::hard, false, budget.unit, ""});
  }
  for (const ImpliedLimit& implied : option.implied_limits) {
    const auto figure = option.ledger.at(implied.figure);
    limits.push_back({implied.figure, implied.limit_si, 0, 0, true, true,
                      option.ledger.name_of(figure.index())->unit, implied.meaning});
  }
  return limits;
}

double margin_of(const Limit& limit, double value) {
  const double allowed = limit.limit * (1 - limit.wanted_margin);
  if (allowed == 0) return value <= 0 ? 0.0 : -1.0;
  return std::clamp((allowed - value) / allowed, -1.0, 1.0);
}

bool meets(const Limit& limit, double value) {
  constexpr double rounding = 1e-12;
  return value <= limit.limit * (1 - limit.wanted_margin) * (1 + rounding);
}

}  // namespace portweigh::options

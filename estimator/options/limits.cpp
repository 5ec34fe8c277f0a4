#include "options/limits.hpp"

#include <algorithm>

namespace portweigh::options {
namespace {

constexpr double least_room_k = 1;

}  // namespace

std::vector<Limit> limits_of(const Option& option, const study::Study& study) {
  std::vector<Limit> limits;
  for (const study::Budget& budget : study.budgets) {
    limits.push_back({budget.figure, budget.limit_si, budget.margin, budget.weight,
                      budget.strength == study::Strength::hard, false, budget.unit, "", 0});
  }
  for (const ImpliedLimit& implied : option.implied_limits) {
    const auto figure = option.ledger.at(implied.figure);
    limits.push_back({implied.figure, implied.limit_si, 0, 0, true, true,
                      option.ledger.name_of(figure.index())->unit, implied.meaning, 0});
  }
  for (Limit& limit : limits) {
    limit.zero = zero_of(limit.unit.dimension, limit.limit, study.ambient.range.typical);
  }
  return limits;
}

double zero_of(const figures::Dimension& dimension, double limit, double ambient_k) {
  if (dimension != figures::dimensions::temperature) return 0;
  return std::min(ambient_k, limit - least_room_k);
}

double allowed_of(const Limit& limit) {
  return limit.zero + (limit.limit - limit.zero) * (1 - limit.wanted_margin);
}

double excess_of(const Limit& limit, double value) {
  const double room = allowed_of(limit) - limit.zero;
  if (room == 0) return value <= limit.zero ? 0.0 : endless_excess;
  return (value - limit.zero) / room;
}

double margin_of(const Limit& limit, double value) {
  const double allowed = allowed_of(limit);
  const double room = allowed - limit.zero;
  if (room == 0) return value <= limit.zero ? 0.0 : -1.0;
  return std::clamp((allowed - value) / room, -1.0, 1.0);
}

bool meets(const Limit& limit, double value) {
  constexpr double rounding = 1e-12;
  return value <= allowed_of(limit) * (1 + rounding);
}

}  // namespace portweigh::options

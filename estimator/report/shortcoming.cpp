#include "report/shortcoming.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"
#include "options/limits.hpp"

namespace portweigh::report {
namespace {

using decision::BudgetResult;
using decision::RankedOption;
using figures::format_in_unit;

// In the unit in which the value is best read. A difference of temperatures is in kelvin.
std::string miss_text(const BudgetResult& budget, const options::Limit& limit) {
  const double allowed = options::allowed_of(limit);
  const bool is_temperature = budget.unit.dimension == figures::dimensions::temperature;
  const figures::Unit unit = figures::display_unit(budget.value, budget.unit);
  const std::string over =
      format_in_unit(budget.value - allowed, is_temperature ? figures::parse_unit("K") : unit);
  std::string text = fmt::format(
      "{} {} {} is {} {} over its limit of {} {}", budget.figure, format_in_unit(budget.value, unit),
      unit.text, over, is_temperature ? "K" : unit.text, format_in_unit(budget.limit, unit), unit.text);
  if (limit.wanted_margin > 0) text += fmt::format(" less {:.0f} % margin", 100 * limit.wanted_margin);
  return text;
}

std::vector<std::string> missed_budgets(const Run& run, const RankedOption& ranked) {
  const options::Option& option = run.considered.options[ranked.option];
  auto limits = options::limits_of(option, run.study);
  std::erase_if(limits, [&](const options::Limit& limit) { return !option.ledger.find(limit.figure); });
  std::vector<std::size_t> missed;
  for (std::size_t i = 0; i < ranked.budgets.size(); ++i) {
    if (ranked.budgets[i].is_hard && !ranked.budgets[i].meets) missed.push_back(i);
  }
  const auto excess = [&](std::size_t i) { return options::excess_of(limits[i], ranked.budgets[i].value); };
  std::stable_sort(missed.begin(), missed.end(),
                   [&](std::size_t a, std::size_t b) { return excess(a) > excess(b); });
  std::vector<std::string> texts;
  for (const std::size_t i : missed) texts.push_back(miss_text(ranked.budgets[i], limits[i]));
  return texts;
}

const RankedOption* find_option(const Run& run, const std::string& id) {
  const auto& all = run.ranking.ranked;
  const auto found = std::find_if(all.begin(), all.end(), [&](const RankedOption& other) {
    return run.considered.options[other.option].id == id;
  });
  return found == all.end() ? nullptr : &*found;
}

std::string dominance_text(const RankedOption& ranked, const RankedOption& better, const std::string& id) {
  const BudgetResult* furthest = nullptr;
  double largest = 0;
  double value_of_better = 0;
  for (std::size_t i = 0; i < ranked.budgets.size() && i < better.budgets.size(); ++i) {
    const BudgetResult& own = ranked.budgets[i];
    const double other = better.budgets[i].value;
    if (own.is_implied || own.value <= other) continue;
    const double behind = other > 0 ? own.value / other : 1e9;
    if (furthest != nullptr && behind <= largest) continue;
    furthest = &own;
    largest = behind;
    value_of_better = other;
  }
  std::string text = fmt::format("{} is no worse in every budget's figure", id);
  if (furthest == nullptr) return text;
  return text + fmt::format("; {} is {} there, {} here", furthest->figure,
                            figures::format_quantity(value_of_better, furthest->unit),
                            figures::format_quantity(furthest->value, furthest->unit));
}

}  // namespace

std::string shortcoming(const Run& run, const RankedOption& ranked) {
  const auto missed = missed_budgets(run, ranked);
  if (!missed.empty()) return fmt::format("{}", fmt::join(missed, "; "));
  if (!ranked.is_dominated) return "";
  const RankedOption* better = find_option(run, ranked.dominated_by);
  return better != nullptr ? dominance_text(ranked, *better, ranked.dominated_by) : "";
}

}  // namespace portweigh::report

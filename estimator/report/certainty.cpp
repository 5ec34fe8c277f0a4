#include "report/certainty.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "report/number_words.hpp"

namespace portweigh::report {
namespace {

using decision::RankedOption;

struct Threshold {
  double sure;
  double first;
};
constexpr Threshold firm{0.95, 0.8};
constexpr Threshold likely{0.8, 0.5};

bool reaches(const RankedOption& option, const Threshold& threshold) {
  return option.meets_budgets && option.probability_meets_budgets >= threshold.sure &&
         option.first_rank_share >= threshold.first;
}

// What puts `rival` behind `best`, by the steps of the order.
std::string reason_behind(const Run& run, const RankedOption& best, const RankedOption& rival) {
  const auto percent = [](double share) { return std::lround(100 * share); };
  if (best.meets_budgets && !rival.meets_budgets) {
    const auto missed = std::find_if(rival.budgets.begin(), rival.budgets.end(),
                                     [](const auto& budget) { return budget.is_hard && !budget.meets; });
    return fmt::format("it misses a hard budget at typical inputs ({})",
                       missed == rival.budgets.end() ? "a limit of its own" : missed->figure);
  }
  if (percent(best.probability_meets_budgets) != percent(rival.probability_meets_budgets)) {
    return fmt::format("it keeps all hard budgets in {} only",
                       share_words(rival.probability_meets_budgets, run.ranking.sampling.samples));
  }
  if (!best.meets_budgets) return "it misses the hard budgets by more";
  return fmt::format("its margin at the study's own weights and typical inputs is {} ({} % against {} %)",
                     rival.weighted_margin < best.weighted_margin ? "smaller" : "no larger",
                     signed_fixed(100 * rival.weighted_margin, 1),
                     signed_fixed(100 * best.weighted_margin, 1));
}

}  // namespace

Certainty certainty_of(const RankedOption& first) {
  return reaches(first, firm)     ? Certainty::firm
         : reaches(first, likely) ? Certainty::likely
                                  : Certainty::open;
}

std::string_view word_of(Certainty certainty) {
  switch (certainty) {
    case Certainty::firm:
      return "firm";
    case Certainty::likely:
      return "likely";
    case Certainty::open:
      break;
  }
  return "open";
}

std::string certainty_scale() {
  return fmt::format(
      "firm: sure in at least {:.0f} % and first in at least {:.0f} %; likely: {:.0f} % and {:.0f} %; else "
      "open",
      100 * firm.sure, 100 * firm.first, 100 * likely.sure, 100 * likely.first);
}

const RankedOption* oftener_first(const decision::Ranking& ranking) {
  if (ranking.ranked.empty()) return nullptr;
  const auto oftest = std::max_element(
      ranking.ranked.begin(), ranking.ranked.end(),
      [](const RankedOption& a, const RankedOption& b) { return a.first_rank_share < b.first_rank_share; });
  return oftest->first_rank_share > ranking.ranked.front().first_rank_share ? &*oftest : nullptr;
}

std::string rival_words(const Run& run) {
  const RankedOption* rival = oftener_first(run.ranking);
  if (rival == nullptr) return "";
  return fmt::format("{} is first oftener, in {}, but {}", run.considered.options[rival->option].id,
                     share_words(rival->first_rank_share, run.ranking.sampling.samples),
                     reason_behind(run, run.ranking.ranked.front(), *rival));
}

std::string life_cost_words(const RankedOption& ranked) {
  const auto found = ranked.figures.find("cost_per_unit_over_life");
  if (found == ranked.figures.end() || found->second.low == found->second.high) return "";
  const decision::FigureSummary& cost = found->second;
  constexpr double skewed = 1.2;  // the middle of the range beside the typical value
  const bool is_above = (cost.low + cost.high) / 2 > skewed * cost.value;
  return fmt::format("5 % .. 95 %: {} .. {}{}", amount_words(cost.low, cost.unit, ""),
                     amount_words(cost.high, cost.unit, ""),
                     is_above ? ", so rather more than typical inputs give" : "");
}

}  // namespace portweigh::report

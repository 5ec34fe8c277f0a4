#include "report/saved/compare_runs.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "figures/evaluation/evaluate.hpp"
#include "figures/ledger/export.hpp"
#include "options/limits.hpp"
#include "report/number_words.hpp"
#include "study/figure_names.hpp"

namespace portweigh::report {
namespace {

const SavedOption* find(const SavedRun& run, const std::string& id) {
  const auto found = std::find_if(run.options.begin(), run.options.end(),
                                  [&](const SavedOption& one) { return one.id == id; });
  return found == run.options.end() ? nullptr : &*found;
}

double score_of(const SavedOption& option, const std::vector<SavedBudget>& budgets,
                std::span<const figures::Setting> settings) {
  const std::vector<double> values = figures::evaluate_all(option.ledger, settings);
  // No temperature is worked out without it.
  const auto ambient = option.ledger.find(options::ambient_key);
  double score = 0;
  double weights = 0;
  for (const SavedBudget& budget : budgets) {
    const auto figure = option.ledger.find(budget.figure);
    if (!figure) continue;
    options::Limit limit;
    limit.limit = budget.limit;
    limit.wanted_margin = budget.margin;
    if (ambient && option.ledger.name_of(figure->index()) != nullptr) {
      limit.zero = options::zero_of(option.ledger.name_of(figure->index())->unit.dimension, limit.limit,
                                    values[ambient->index()]);
    }
    score += budget.weight * options::margin_of(limit, values[figure->index()]);
    weights += budget.weight;
  }
  return weights > 0 ? score / weights : 0;
}

bool is_input(const figures::Ledger& ledger, const std::string& key) {
  const auto figure = ledger.find(key);
  return figure && ledger.nodes()[figure->index()].operation == figures::Operation::input;
}

// The score with one input at its later value, where the option has it.
double moved_score(const SavedOption& option, const std::vector<SavedBudget>& budgets,
                   const figures::InputChange& change) {
  if (!change.after || !is_input(option.ledger, change.key)) return score_of(option, budgets, {});
  const figures::Setting setting{change.key, change.after->typical};
  return score_of(option, budgets, std::span(&setting, 1));
}

void collect_changes(const SavedRun& before, const SavedRun& after, RunComparison& result) {
  std::set<std::string> seen;
  for (const SavedOption& now : after.options) {
    const SavedOption* then = find(before, now.id);
    if (then == nullptr) continue;
    const figures::Comparison comparison = figures::compare(then->ledger, now.ledger);
    for (const figures::InputChange& change : comparison.inputs) {
      if (seen.insert(change.key).second) result.inputs.push_back(change);
    }
    for (const figures::FigureChange& change : comparison.figures) {
      if (study::find_figure(change.key) != nullptr) result.figures.push_back({now.id, change});
    }
  }
  for (std::size_t i = 0; i < std::max(before.budgets.size(), after.budgets.size()); ++i) {
    const auto at = [i](const SavedRun& run) {
      return i < run.budgets.size() ? std::optional(run.budgets[i]) : std::nullopt;
    };
    if (at(before) != at(after)) result.budgets.emplace_back(at(before), at(after));
  }
}

std::string rejection_of(const SavedRun& run, const std::string& id) {
  for (const auto& [rejected, reason] : run.rejected) {
    if (rejected == id) return reason;
  }
  return "not in the later run";
}

void collect_ranks(const SavedRun& before, const SavedRun& after, RunComparison& result) {
  for (const SavedOption& now : after.options) {
    const SavedOption* then = find(before, now.id);
    if (then == nullptr) {
      result.ranks.push_back(
          {now.id, std::nullopt, now.rank, "", 0, now.probability, 0, now.weighted_margin});
    } else if (then->rank != now.rank || then->probability != now.probability ||
               then->weighted_margin != now.weighted_margin) {
      result.ranks.push_back({now.id, then->rank, now.rank, "", then->probability, now.probability,
                              then->weighted_margin, now.weighted_margin});
    }
  }
  for (const SavedOption& then : before.options) {
    if (find(after, then.id) != nullptr) continue;
    result.ranks.push_back({then.id, then.rank, std::nullopt, rejection_of(after, then.id), then.probability,
                            0, then.weighted_margin, 0});
  }
}

void collect_effects(const SavedRun& before, const SavedRun& after, RunComparison& result) {
  const SavedOption* old_leader = find(before, result.leader_before);
  const SavedOption* new_leader = find(before, result.leader_after);
  if (old_leader == nullptr || new_leader == nullptr) return;
  result.gap_before = new_leader->weighted_margin - old_leader->weighted_margin;
  const SavedOption* old_later = find(after, result.leader_before);
  const SavedOption* new_later = find(after, result.leader_after);
  if (old_later != nullptr) result.gap_after = new_later->weighted_margin - old_later->weighted_margin;
  const double unmoved =
      score_of(*new_leader, before.budgets, {}) - score_of(*old_leader, before.budgets, {});
  if (before.budgets != after.budgets) {
    const double gap = score_of(*new_leader, after.budgets, {}) - score_of(*old_leader, after.budgets, {});
    result.effects.push_back({"budgets of the study", gap - unmoved});
  }
  for (const figures::InputChange& change : result.inputs) {
    const double gap =
        moved_score(*new_leader, before.budgets, change) - moved_score(*old_leader, before.budgets, change);
    if (gap != unmoved) result.effects.push_back({change.key, gap - unmoved});
  }
  std::stable_sort(result.effects.begin(), result.effects.end(),
                   [](const Effect& a, const Effect& b) { return std::abs(a.change) > std::abs(b.change); });
}

std::string change_words(const RankChange& change) {
  if (!change.after) return fmt::format("{} cannot be built any more: {}.", change.option, change.reason);
  if (!change.before) return fmt::format("{} was not among the options before.", change.option);
  const std::string move = *change.before == *change.after
                               ? fmt::format("stays at rank {}", *change.after)
                               : fmt::format("goes from rank {} to {}", *change.before, *change.after);
  return fmt::format(
      "{} {}: it keeps all hard budgets in {:.0f} % of the samples instead of {:.0f} %, and its weighted "
      "margin "
      "goes from {} % to {} %.",
      change.option, move, 100 * change.probability_after, 100 * change.probability_before,
      signed_fixed(100 * change.margin_before, 1), signed_fixed(100 * change.margin_after, 1));
}

std::vector<std::string> conclude(const RunComparison& result) {
  std::vector<std::string> words;
  if (result.inputs.empty() && result.budgets.empty() && result.ranks.empty()) return {"Nothing moved."};
  if (result.leader_before == result.leader_after) {
    words.push_back(
        fmt::format("{} leads in both runs.", result.leader_after.empty() ? "Nothing" : result.leader_after));
  } else {
    words.push_back(fmt::format("The lead goes from {} to {}.",
                                result.leader_before.empty() ? "nothing" : result.leader_before,
                                result.leader_after.empty() ? "nothing" : result.leader_after));
  }
  for (const RankChange& change : result.ranks) {
    if (change.option == result.leader_before || change.option == result.leader_after) {
      words.push_back(change_words(change));
    }
  }
  if (!result.effects.empty()) {
    words.push_back(
        fmt::format("What moved the two against each other most is {}: alone it changes the gap of their "
                    "weighted margins by {} points, of {} in all.",
                    result.effects.front().input, signed_fixed(100 * result.effects.front().change, 1),
                    signed_fixed(100 * (result.gap_after - result.gap_before), 1)));
  }
  return words;
}

}  // namespace

SavedRun read_saved_run(const nlohmann::ordered_json& json) {
  try {
    if (json.value("format", "") != "portweigh-run" || json.value("version", 0) != 1) {
      throw figures::ImportError("not a saved run of version 1");
    }
    SavedRun run;
    run.study = json.at("study").get<std::string>();
    run.currency = json.at("currency").get<std::string>();
    for (const auto& budget : json.at("study_budgets")) {
      run.budgets.push_back({budget.at("figure").get<std::string>(), budget.at("limit").get<double>(),
                             budget.at("margin").get<double>(), budget.at("weight").get<double>(),
                             budget.at("hard").get<bool>()});
    }
    for (const auto& option : json.at("options")) {
      const auto id = option.at("id").get<std::string>();
      run.options.push_back({id, option.at("rank").get<unsigned>(), option.at("meets_budgets").get<bool>(),
                             option.at("probability_meets_budgets").get<double>(),
                             option.at("weighted_margin").get<double>(),
                             figures::ledger_from_json(json.at("ledgers").at(id))});
    }
    for (const auto& rejected : json.at("rejected")) {
      run.rejected.emplace_back(rejected.at("id").get<std::string>(),
                                rejected.at("reason").get<std::string>());
    }
    run.notices = notices_in(json);
    return run;
  } catch (const nlohmann::json::exception& error) {
    throw figures::ImportError(error.what());
  }
}

RunComparison compare_runs(const SavedRun& before, const SavedRun& after) {
  RunComparison result;
  result.study_before = before.study;
  result.study_after = after.study;
  result.leader_before = before.options.empty() ? "" : before.options.front().id;
  result.leader_after = after.options.empty() ? "" : after.options.front().id;
  collect_changes(before, after, result);
  collect_ranks(before, after, result);
  if (result.leader_before != result.leader_after) collect_effects(before, after, result);
  result.conclusion = conclude(result);
  result.notices = merged(before.notices, after.notices);
  return result;
}

}  // namespace portweigh::report

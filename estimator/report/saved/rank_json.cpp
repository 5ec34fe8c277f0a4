#include "report/saved/rank_json.hpp"

#include <nlohmann/json.hpp>

#include "figures/units/dimension.hpp"
#include "report/shortcoming.hpp"

namespace portweigh::report {
namespace {

using nlohmann::ordered_json;

// Values stay SI, except temperatures, which people give in degrees Celsius.
struct Shown {
  double offset = 0;
  std::string unit;
};

Shown shown_as(const figures::Unit& unit, const std::string& currency) {
  if (unit.dimension == figures::dimensions::temperature) return {-273.15, "degC"};
  if (unit.dimension == figures::dimensions::money) return {0, currency};
  return {0, figures::to_string(unit.dimension)};
}

ordered_json figures_json(const decision::RankedOption& ranked, const std::string& currency) {
  ordered_json all = ordered_json::object();
  for (const auto& [key, figure] : ranked.figures) {
    const Shown shown = shown_as(figure.unit, currency);
    all[key] = {{"value", figure.value + shown.offset},
                {"low", figure.low + shown.offset},
                {"high", figure.high + shown.offset},
                {"unit", shown.unit}};
  }
  return all;
}

ordered_json budgets_json(const decision::RankedOption& ranked, const std::string& currency) {
  ordered_json all = ordered_json::array();
  for (const decision::BudgetResult& budget : ranked.budgets) {
    const Shown shown = shown_as(budget.unit, currency);
    all.push_back({{"figure", budget.figure},
                   {"limit", budget.limit + shown.offset},
                   {"value", budget.value + shown.offset},
                   {"unit", shown.unit},
                   {"margin", budget.margin},
                   {"meets", budget.meets},
                   {"probability", budget.probability},
                   {"hard", budget.is_hard},
                   {"implied", budget.is_implied}});
  }
  return all;
}

// The weights of someone who would choose the option; null where it is never first.
ordered_json central_weights_json(const Run& run, const decision::RankedOption& ranked) {
  if (ranked.central_weights.empty()) return nullptr;
  ordered_json all = ordered_json::array();
  for (std::size_t i = 0; i < ranked.central_weights.size(); ++i) {
    all.push_back({{"figure", run.study.budgets[i].figure}, {"weight", ranked.central_weights[i]}});
  }
  return all;
}

// Ranks that the option never has are left out at the end.
ordered_json rank_shares_json(const decision::RankedOption& ranked) {
  std::vector<double> shares = ranked.rank_shares;
  while (!shares.empty() && shares.back() == 0) shares.pop_back();
  return shares;
}

ordered_json choice_json(const Run& run, const std::optional<std::size_t>& place) {
  if (!place) return nullptr;
  return run.considered.options[run.ranking.ranked[*place].option].id;
}

// Best first, each less good than the option's own.
ordered_json other_settings_json(const Run& run, const std::string& id) {
  ordered_json all = ordered_json::array();
  for (const decision::SettingSummary& other : run.other_settings_of(id)) {
    all.push_back({{"setting", other.setting},
                   {"meets_budgets", other.meets_budgets},
                   {"probability_meets_budgets", other.probability_meets_budgets},
                   {"active_power", other.active_w},
                   {"average_power", other.average_w}});
  }
  return all;
}

ordered_json option_json(const Run& run, const decision::RankedOption& ranked) {
  const options::Option& option = run.considered.options[ranked.option];
  ordered_json assignment = ordered_json::object();
  for (const auto& [block, engine] : option.assignment) assignment[block] = engine;
  ordered_json bill = ordered_json::array();
  for (const options::BillLine& line : option.bill) {
    bill.push_back({{"part", line.id}, {"what", line.what}, {"count", line.count}});
  }
  ordered_json json = {{"id", option.id},
                       {"kind", options::to_string(option.kind)},
                       {"parts", option.parts},
                       {"bill", std::move(bill)},
                       {"assignment", std::move(assignment)},
                       {"setting", option.setting},
                       {"other_settings", other_settings_json(run, option.id)},
                       {"rank", ranked.rank},
                       {"meets_budgets", ranked.meets_budgets},
                       {"probability_meets_budgets", ranked.probability_meets_budgets},
                       {"standard_error", ranked.standard_error},
                       {"first_rank_share", ranked.first_rank_share},
                       {"rank_shares", rank_shares_json(ranked)},
                       {"central_weights", central_weights_json(run, ranked)},
                       {"expected_worth", ranked.regret.expected_worth},
                       {"mean_regret", ranked.regret.mean},
                       {"largest_regret", ranked.regret.largest},
                       {"closeness", ranked.closeness ? ordered_json(*ranked.closeness) : ordered_json()},
                       {"weighted_margin", ranked.weighted_margin},
                       {"dominated", ranked.is_dominated}};
  if (ranked.is_dominated) json["dominated_by"] = ranked.dominated_by;
  if (std::string why = shortcoming(run, ranked); !why.empty()) json["shortcoming"] = std::move(why);
  json["figures"] = figures_json(ranked, run.study.currency);
  json["budgets"] = budgets_json(ranked, run.study.currency);
  json["notes"] = option.notes;
  json["warnings"] = option.warnings;
  return json;
}

}  // namespace

ordered_json rank_json(const Run& run) {
  ordered_json options = ordered_json::array();
  for (const decision::RankedOption& ranked : run.ranking.ranked) options.push_back(option_json(run, ranked));
  ordered_json rejected = ordered_json::array();
  for (const options::Rejection& rejection : run.considered.rejections) {
    rejected.push_back({{"id", rejection.id},
                        {"kind", options::to_string(rejection.kind)},
                        {"parts", rejection.parts},
                        {"reason", rejection.reason},
                        {"needed", rejection.needed},
                        {"available", rejection.available},
                        {"unit", rejection.unit}});
  }
  ordered_json json = {{"study", run.study.name},
                       {"currency", run.study.currency},
                       {"seed", run.ranking.sampling.seed},
                       {"samples", run.ranking.sampling.samples},
                       {"expected_choice", choice_json(run, run.ranking.expected_choice)},
                       {"robust_choice", choice_json(run, run.ranking.robust_choice)},
                       {"second_opinion", choice_json(run, run.ranking.second_opinion)},
                       {"options", std::move(options)},
                       {"rejected", std::move(rejected)}};
  add_notices(json, run.notices);
  return json;
}

}  // namespace portweigh::report

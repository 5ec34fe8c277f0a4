#include "report/rank_json.hpp"

#include "figures/dimension.hpp"

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
                       {"rank", ranked.rank},
                       {"meets_budgets", ranked.meets_budgets},
                       {"probability_meets_budgets", ranked.probability_meets_budgets},
                       {"standard_error", ranked.standard_error},
                       {"first_rank_share", ranked.first_rank_share},
                       {"weighted_margin", ranked.weighted_margin},
                       {"dominated", ranked.is_dominated}};
  if (ranked.is_dominated) json["dominated_by"] = ranked.dominated_by;
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
                        {"reason", rejection.reason}});
  }
  return {{"study", run.study.name},
          {"currency", run.study.currency},
          {"seed", run.ranking.sampling.seed},
          {"samples", run.ranking.sampling.samples},
          {"options", std::move(options)},
          {"rejected", std::move(rejected)},
          {"cautions", cautions()}};
}

}  // namespace portweigh::report

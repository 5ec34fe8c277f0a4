#include "figures/ledger/export.hpp"

#include <nlohmann/json.hpp>
#include "report/document/report_formats.hpp"
#include "report/saved/rank_json.hpp"

namespace portweigh::report {
namespace {

using nlohmann::ordered_json;

ordered_json winner_json(const WinnerMap& map) {
  ordered_json leaders = ordered_json::array();
  for (const std::string& leader : map.leaders) {
    leaders.push_back(leader.empty() ? ordered_json(nullptr) : ordered_json(leader));
  }
  return {
      {"clock_rates", map.clock_rates_hz}, {"duty_cycles", map.duty_cycles}, {"leaders", std::move(leaders)}};
}

ordered_json shares_json(const RankShares& shares) {
  ordered_json all = ordered_json::object();
  for (std::size_t i = 0; i < shares.options.size(); ++i) {
    ordered_json row = ordered_json::array();
    for (Eigen::Index rank = 0; rank < shares.shares.cols(); ++rank) {
      row.push_back(shares.shares(static_cast<Eigen::Index>(i), rank));
    }
    all[shares.options[i]] = std::move(row);
  }
  return all;
}

ordered_json study_budgets(const study::Study& study) {
  ordered_json all = ordered_json::array();
  for (const study::Budget& budget : study.budgets) {
    all.push_back({{"figure", budget.figure},
                   {"limit", budget.limit_si},
                   {"margin", budget.margin},
                   {"hard", budget.strength == study::Strength::hard},
                   {"weight", budget.weight},
                   {"source", budget.source.text}});
  }
  return all;
}

}  // namespace

ordered_json report_json(const Document& document) {
  const Run& run = *document.run;
  ordered_json ledgers = ordered_json::object();
  for (const options::Option& option : run.considered.options)
    ledgers[option.id] = run.places.in(figures::to_json(option.ledger));
  ordered_json shown = ordered_json::array();
  for (std::size_t i = 0; i < document.shown.size(); ++i) shown.push_back(option_at(document, i).id);
  ordered_json json = {{"format", "portweigh-run"}, {"version", 1}};
  json.update(rank_json(run));
  json["summary"] = document.summary;
  json["recommendation"] = document.recommendation;
  json["shown"] = std::move(shown);
  json["study_budgets"] = study_budgets(run.study);
  json["winner_map"] = winner_json(document.analysis.winner_map);
  json["rank_shares"] = shares_json(document.analysis.rank_shares);
  json["sensitivity"] = sensitivity_json(document.analysis.sensitivity);
  json["structural_inputs"] = document.structural_inputs;
  json["method"] = document.method;
  json["warnings"] = document.warnings;
  json["ledgers"] = std::move(ledgers);
  return json;
}

}  // namespace portweigh::report

#include "report/document/analysis.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "exploration/field.hpp"

namespace portweigh::report {
namespace {

constexpr std::size_t best_options = 8;
constexpr Eigen::Index driver_samples = 1024;
constexpr std::size_t shown_ranks = 5;
constexpr double least_share = 0.05;

const figures::Input* input_of(const options::Option& option, const std::string& key) {
  const auto figure = option.ledger.find(key);
  if (!figure) return nullptr;
  const figures::Node& node = option.ledger.nodes()[figure->index()];
  return node.operation == figures::Operation::input ? &option.ledger.inputs()[node.detail] : nullptr;
}

std::string name_of(const std::vector<options::Option>& options, Eigen::Index leader) {
  return leader < 0 ? "" : options[static_cast<std::size_t>(leader)].id;
}

// From a quarter of the lowest clock of any option to four times the highest; whole steps of a factor of two
// are met where the ratio allows.
WinnerMap winner_map(const Run& run, const exploration::Field& field) {
  WinnerMap map;
  double lowest_hz = 0;
  double highest_hz = 0;
  double typical_duty = 0;
  for (const options::Option& option : run.considered.options) {
    if (const figures::Input* duty = input_of(option, "duty_cycle")) typical_duty = duty->range.typical;
    const figures::Input* clock = input_of(option, "clock_rate");
    if (clock == nullptr || clock->range.typical <= 0) continue;
    lowest_hz = lowest_hz == 0 ? clock->range.typical : std::min(lowest_hz, clock->range.typical);
    highest_hz = std::max(highest_hz, clock->range.typical);
  }
  if (lowest_hz == 0 || typical_duty <= 0) return map;
  constexpr unsigned across = 17;
  constexpr unsigned down = 13;
  map.clock_rates_hz = exploration::Axis{"clock_rate", lowest_hz / 4, highest_hz * 4, across,
                                         exploration::Spacing::logarithmic}
                           .values();
  map.duty_cycles = exploration::Axis{"duty_cycle", std::min(0.001, typical_duty / 10), 1, down,
                                      exploration::Spacing::logarithmic}
                        .values();
  exploration::Points points;
  for (const double duty : map.duty_cycles) {
    for (const double clock_hz : map.clock_rates_hz) {
      points["duty_cycle"].push_back(duty);
      points["clock_rate"].push_back(clock_hz);
    }
  }
  const auto count = static_cast<Eigen::Index>(map.duty_cycles.size() * map.clock_rates_hz.size());
  for (const Eigen::Index leader : field.at(points, count).leader) {
    map.leaders.push_back(name_of(run.considered.options, leader));
  }
  return map;
}

figures::Unit unit_of_input(const Run& run, const std::string& key) {
  for (const options::Option& option : run.considered.options) {
    if (const figures::Input* input = input_of(option, key)) return input->unit;
  }
  return figures::parse_unit("1");
}

Sensitivity sensitivity(const Run& run, const exploration::Field& field) {
  Sensitivity result;
  const options::Option& leader = run.considered.options[run.ranking.ranked.front().option];
  result.option = leader.id;
  std::set<std::string> seen;
  for (const study::Budget& budget : run.study.budgets) {
    const auto figure = leader.ledger.find(budget.figure);
    if (!figure || !seen.insert(budget.figure).second) continue;
    result.figures.push_back(
        {budget.figure,
         exploration::figure_drivers(leader.ledger, *figure, driver_samples, run.ranking.sampling.seed),
         leader.ledger.name_of(figure->index())->unit});
  }
  for (const exploration::Flip& flip : exploration::find_flips(run.considered.options, field)) {
    const std::string name = name_of(run.considered.options, flip.new_leader);
    result.flips.push_back({flip, unit_of_input(run, flip.input), name.empty() ? "none" : name});
  }
  return result;
}

RankShares rank_shares(const Run& run) {
  RankShares result;
  std::vector<std::vector<double>> rows;
  for (const decision::RankedOption& ranked : run.ranking.ranked) {
    const auto& shares = ranked.rank_shares;
    double among_best = 0;
    for (std::size_t rank = 0; rank < std::min(shares.size(), shown_ranks); ++rank)
      among_best += shares[rank];
    if (among_best < least_share) continue;
    result.options.push_back(run.considered.options[ranked.option].id);
    rows.push_back(
        {shares.begin(), shares.begin() + static_cast<std::ptrdiff_t>(std::min(shares.size(), shown_ranks))});
    rows.back().resize(shown_ranks, 0);
  }
  result.shares.resize(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(shown_ranks));
  for (std::size_t r = 0; r < rows.size(); ++r) {
    for (std::size_t c = 0; c < shown_ranks; ++c) {
      result.shares(static_cast<Eigen::Index>(r), static_cast<Eigen::Index>(c)) = rows[r][c];
    }
  }
  return result;
}

}  // namespace

Analysis analyse(const Run& run) {
  Analysis analysis;
  if (run.ranking.ranked.empty()) return analysis;
  const exploration::Field field(run.considered.options, run.study, "active_power");
  analysis.typical_leader = name_of(run.considered.options, field.at({}, 1).leader.front());
  analysis.winner_map = winner_map(run, field);
  analysis.sensitivity = sensitivity(run, field);
  analysis.rank_shares = rank_shares(run);
  return analysis;
}

std::vector<std::size_t> shown_options(const Run& run, const Analysis& analysis) {
  std::set<std::string> leaders(analysis.winner_map.leaders.begin(), analysis.winner_map.leaders.end());
  leaders.insert(analysis.typical_leader);
  for (const NamedFlip& flip : analysis.sensitivity.flips) leaders.insert(flip.new_leader);
  std::set<options::OptionKind> kinds;
  std::vector<std::size_t> shown;
  std::size_t best = 0;
  for (std::size_t i = 0; i < run.ranking.ranked.size(); ++i) {
    const decision::RankedOption& ranked = run.ranking.ranked[i];
    const options::Option& option = run.considered.options[ranked.option];
    const bool is_first_of_kind = kinds.insert(option.kind).second;
    const bool is_best = !ranked.is_dominated && best < best_options;
    if (is_best) ++best;
    if (is_best || is_first_of_kind || leaders.contains(option.id)) shown.push_back(i);
  }
  return shown;
}

}  // namespace portweigh::report

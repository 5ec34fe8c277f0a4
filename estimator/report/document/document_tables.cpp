// The tables of a report: the budgets, and what stands behind each chart.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"
#include "report/document/document.hpp"
#include "report/terminal/flip_text.hpp"

namespace portweigh::report {
namespace {

using decision::BudgetResult;
using decision::RankedOption;
using figures::format_quantity;

std::string percent(double share) {
  return fmt::format("{:.0f} %", 100 * share);
}

std::string budget_title(const BudgetResult& budget) {
  return fmt::format("{} ({} {})", label_of_figure(budget.figure), budget.is_hard ? "at most" : "wish",
                     format_quantity(budget.limit, budget.unit));
}

// Same figure for every option: the contributors' labels, without the state that follows the comma.
std::string contributor_label(const std::string& label) {
  return label.substr(0, label.rfind(", "));
}

}  // namespace

std::vector<StatePower> state_powers(const options::Option& option, const study::Study& study) {
  const auto values = figures::evaluate_all(option.ledger, std::span<const figures::Setting>());
  std::vector<StatePower> powers;
  for (const study::PortState& state : study.states) {
    StatePower power{state.name, 0, {}};
    if (const auto total = option.ledger.find("state_power." + state.name))
      power.total_w = values[total->index()];
    const std::string prefix = "state_power." + state.name + ".";
    for (const std::uint32_t node : option.ledger.named_nodes()) {
      const figures::Name& name = *option.ledger.name_of(node);
      if (!name.key.starts_with(prefix) || values[node] == 0) continue;
      const std::string label =
          name.label.starts_with("wake-ups") ? std::string("wake-ups") : contributor_label(name.label);
      const auto same = std::find_if(power.contributors.begin(), power.contributors.end(),
                                     [&](const auto& one) { return one.first == label; });
      if (same == power.contributors.end()) {
        power.contributors.emplace_back(label, values[node]);
      } else {
        same->second += values[node];
      }
    }
    std::stable_sort(power.contributors.begin(), power.contributors.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
    powers.push_back(std::move(power));
  }
  return powers;
}

Table options_table(const Document& document) {
  Table table;
  table.caption =
      "Options against budgets, best first: value, and margin to the budget. A minus sign marks a miss.";
  table.titles = {"rank", "option", "kind"};
  if (document.shown.empty()) return table;
  for (const BudgetResult& budget : ranked_at(document, 0).budgets) {
    if (!budget.is_implied) table.titles.push_back(budget_title(budget));
  }
  table.titles.insert(table.titles.end(), {"all hard budgets kept", "leads"});
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    const RankedOption& ranked = ranked_at(document, i);
    const options::Option& option = option_at(document, i);
    std::vector<std::string> row = {fmt::format("{}", ranked.rank), option.id,
                                    std::string(options::to_string(option.kind))};
    for (const BudgetResult& budget : ranked.budgets) {
      if (budget.is_implied) continue;
      row.push_back(
          fmt::format("{} ({:+.0f} %)", format_quantity(budget.value, budget.unit), 100 * budget.margin));
    }
    row.push_back(percent(ranked.probability_meets_budgets));
    row.push_back(percent(ranked.first_rank_share));
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table probability_table(const Document& document) {
  Table table;
  table.caption =
      "Probability of keeping each budget. Look for options that are safe in every column; a wish may be "
      "missed.";
  table.titles = {"option"};
  if (document.shown.empty()) return table;
  for (const BudgetResult& budget : ranked_at(document, 0).budgets) {
    if (!budget.is_implied) table.titles.push_back(budget_title(budget));
  }
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    std::vector<std::string> row = {option_at(document, i).id};
    for (const BudgetResult& budget : ranked_at(document, i).budgets) {
      if (!budget.is_implied) row.push_back(percent(budget.probability));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table flips_table(const Document& document) {
  Table table;
  table.caption = fmt::format(
      "Smallest change of one input that makes another option lead than {}, which has the largest weighted "
      "margin at typical values; nearest first. Inputs not listed change nothing within a factor of ten.",
      document.analysis.typical_leader);
  table.titles = {"input", "typical", "leader changes at", "change", "within its range", "then leads"};
  for (const NamedFlip& named : document.analysis.sensitivity.flips) {
    table.rows.push_back({named.flip.input, format_quantity(named.flip.typical, named.unit),
                          format_quantity(named.flip.value, named.unit), change_text(named.flip),
                          named.flip.is_within_range ? "yes" : "no", named.new_leader});
  }
  return table;
}

Table drivers_table(const Document& document) {
  constexpr std::size_t most_drivers = 5;
  Table table;
  table.caption = fmt::format(
      "What makes the figures of {} uncertain: share of the variance that goes with each input, alone and "
      "together "
      "with others.",
      document.analysis.sensitivity.option);
  table.titles = {"figure", "input", "alone", "with others", "95 % interval"};
  for (const Sensitivity::Figure& figure : document.analysis.sensitivity.figures) {
    for (std::size_t i = 0; i < std::min(figure.drivers.drivers.size(), most_drivers); ++i) {
      const exploration::Driver& driver = figure.drivers.drivers[i];
      table.rows.push_back({label_of_figure(figure.key), driver.coordinate, percent(driver.first.value),
                            percent(driver.total.value),
                            fmt::format("{} .. {}", percent(driver.total.low), percent(driver.total.high))});
    }
  }
  return table;
}

Table winner_table(const Document& document) {
  const WinnerMap& map = document.analysis.winner_map;
  Table table;
  table.caption =
      "Who leads at each clock rate (one clock for all options that have one) and duty cycle; a dash: no "
      "option "
      "keeps every hard budget.";
  table.titles = {"duty cycle"};
  const figures::Unit hertz = figures::parse_unit("Hz");
  for (const double clock_hz : map.clock_rates_hz) table.titles.push_back(format_quantity(clock_hz, hertz));
  for (std::size_t row = map.duty_cycles.size(); row-- > 0;) {
    std::vector<std::string> cells = {figures::format_number(100 * map.duty_cycles[row]) + " %"};
    for (std::size_t column = 0; column < map.clock_rates_hz.size(); ++column) {
      const std::string& leader = map.leaders[row * map.clock_rates_hz.size() + column];
      cells.push_back(leader.empty() ? "-" : leader);
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

Table rank_share_table(const Document& document) {
  const RankShares& shares = document.analysis.rank_shares;
  Table table;
  table.caption =
      "How often each option gets each rank when all weights of the budgets are equally likely. A long first "
      "bar: "
      "right for most priorities.";
  table.titles = {"option"};
  for (Eigen::Index rank = 0; rank < shares.shares.cols(); ++rank) {
    table.titles.push_back(fmt::format("rank {}", rank + 1));
  }
  for (std::size_t i = 0; i < shares.options.size(); ++i) {
    std::vector<std::string> row = {shares.options[i]};
    for (Eigen::Index rank = 0; rank < shares.shares.cols(); ++rank) {
      row.push_back(percent(shares.shares(static_cast<Eigen::Index>(i), rank)));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table power_table(const Document& document) {
  Table table;
  table.caption = "Power of each option by state and contributor, typical values, largest contributor first.";
  table.titles = {"option", "state", "contributor", "power"};
  const figures::Unit watt = figures::parse_unit("W");
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    const options::Option& option = option_at(document, i);
    for (const StatePower& power : state_powers(option, document.run->study)) {
      table.rows.push_back({option.id, power.state, "total", format_quantity(power.total_w, watt)});
      for (const auto& [label, watts] : power.contributors) {
        table.rows.push_back({option.id, power.state, label, format_quantity(watts, watt)});
      }
    }
  }
  return table;
}

Table settings_table(const Document& document) {
  Table table;
  table.caption =
      "Clocks and core voltages of the options' own processors that are worth a comparison: the one taken, which "
      "the ranking's rule puts first, then the others, best first. A slow clock takes less, a fast one keeps the "
      "deadlines more surely.";
  table.titles = {"option", "clock", "taken", "active power", "average power", "all hard budgets kept"};
  const figures::Unit watt = figures::parse_unit("W");
  const auto add = [&](const std::string& id, const std::string& setting, const char* is_taken,
                       double active_w, double average_w, double probability) {
    table.rows.push_back({id, setting, is_taken, format_quantity(active_w, watt),
                          format_quantity(average_w, watt), percent(probability)});
  };
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    const options::Option& option = option_at(document, i);
    const auto others = document.run->other_settings_of(option.id);
    if (others.empty()) continue;
    const RankedOption& ranked = ranked_at(document, i);
    add(option.id, option.setting, "yes", ranked.figures.at("active_power").value,
        ranked.figures.at("average_power").value, ranked.probability_meets_budgets);
    for (const decision::SettingSummary& other : others) {
      add(option.id, other.setting, "no", other.active_w, other.average_w, other.probability_meets_budgets);
    }
  }
  return table;
}

Table cost_table(const Document& document) {
  Table table;
  table.caption =
      "Cost of a unit over its life by contributor: where a cheap part is paid for with engineering or "
      "change.";
  table.titles = {"option", "parts", "making the unit", "one-time cost", "change", "stock", "sum"};
  const figures::Unit money = figures::parse_unit(document.run->study.currency);
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    const CostShares shares = cost_shares(option_at(document, i));
    std::vector<std::string> row = {option_at(document, i).id};
    double sum = 0;
    for (const double share : {shares.parts, shares.making, shares.one_time, shares.change, shares.stock}) {
      row.push_back(format_quantity(share, money));
      sum += share;
    }
    row.push_back(format_quantity(sum, money));
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace portweigh::report

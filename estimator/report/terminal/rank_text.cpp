#include "report/terminal/rank_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "figures/units/format_quantity.hpp"
#include "report/certainty.hpp"
#include "report/number_words.hpp"
#include "report/shortcoming.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

using decision::BudgetResult;
using decision::RankedOption;

constexpr int columns = 80;
constexpr int bar_width = 8;

const options::Option& option_of(const Run& run, const RankedOption& ranked) {
  return run.considered.options[ranked.option];
}

std::string shown(const RankedOption& ranked, const std::string& key) {
  const auto found = ranked.figures.find(key);
  return found == ranked.figures.end() ? "-"
                                       : figures::format_quantity(found->second.value, found->second.unit);
}

std::string money(const RankedOption& ranked, const std::string& key) {
  const auto found = ranked.figures.find(key);
  return found == ranked.figures.end() ? "-" : fmt::format("{:.2f}", found->second.value);
}

std::string cells_or_clock(const RankedOption& ranked, const options::Option& option) {
  const auto cells = ranked.figures.find("logic_cells");
  if (cells != ranked.figures.end() && cells->second.value > 0)
    return fmt::format("{:.0f}", cells->second.value);
  return option.kind == options::OptionKind::microcontroller ? shown(ranked, "clock_rate") : "-";
}

// The smallest margin to a hard budget; limits of the option itself count only where they are broken, since a
// clock is chosen to be just enough.
double smallest_margin(const RankedOption& ranked) {
  double smallest = 1;
  for (const BudgetResult& budget : ranked.budgets) {
    if (budget.is_hard && (!budget.is_implied || !budget.meets)) smallest = std::min(smallest, budget.margin);
  }
  return smallest;
}

std::string heading(const Run& run) {
  const study::Study& study = run.study;
  std::string text = wrap(study.name + ": " + study.summary, columns, "  ");
  text +=
      wrap(fmt::format("function {}, {}; {:.0f} units a year; {} samples, seed {}", study.function.name,
                       counted(study.function.blocks.size(), "block"), study.volume_per_year.range.typical,
                       run.ranking.sampling.samples, run.ranking.sampling.seed),
           columns, "  ");
  return text + "\n";
}

// Which options the table shows: with Detail::best those that no other dominates, the best of each kind, and
// as many of the next as make a comparison.
std::vector<const RankedOption*> shown_options(const Run& run, Detail detail) {
  constexpr std::size_t enough = 16;
  const auto& ranked = run.ranking.ranked;
  std::vector<bool> wanted(ranked.size(), detail == Detail::all);
  std::set<options::OptionKind> kinds;
  for (std::size_t i = 0; i < ranked.size(); ++i) {
    const bool is_best_of_kind = kinds.insert(option_of(run, ranked[i]).kind).second;
    wanted[i] = wanted[i] || is_best_of_kind || !ranked[i].is_dominated;
  }
  auto count = static_cast<std::size_t>(std::count(wanted.begin(), wanted.end(), true));
  for (std::size_t i = 0; i < ranked.size() && count < enough; ++i) {
    if (wanted[i]) continue;
    wanted[i] = true;
    ++count;
  }
  std::vector<const RankedOption*> shown;
  for (std::size_t i = 0; i < ranked.size(); ++i) {
    if (wanted[i]) shown.push_back(&ranked[i]);
  }
  return shown;
}

// Names too long for a column are cut in the table and written out below it.
std::string short_name(const std::string& id) {
  constexpr std::size_t longest = 26;
  return id.size() <= longest ? id : id.substr(0, longest - 1) + "~";
}

std::string table(const Run& run, Detail detail, Colour colour) {
  TextTable rows({{"#"},
                  {"", Align::left},
                  {"option", Align::left},
                  {"cells"},
                  {"active"},
                  {"average"},
                  {"unit"},
                  {"life"},
                  {"sure"},
                  {"margin"}},
                 1);
  std::string long_names;
  for (const RankedOption* ranked : shown_options(run, detail)) {
    const options::Option& option = option_of(run, *ranked);
    const std::string name = short_name(option.id);
    if (name != option.id)
      long_names += wrap_name(fmt::format("{:3}  {}", ranked->rank, option.id), columns, "     ");
    rows.add_row({fmt::format("{}", ranked->rank), ranked->is_dominated ? "" : "*", name,
                  cells_or_clock(*ranked, option), shown(*ranked, "active_power"),
                  shown(*ranked, "average_power"), money(*ranked, "unit_cost"),
                  money(*ranked, "cost_per_unit_over_life"),
                  fmt::format("{:.0f}%", 100 * ranked->probability_meets_budgets),
                  painted(fmt::format("{:+.0f}%", 100 * smallest_margin(*ranked)),
                          ranked->meets_budgets ? Tone::good : Tone::bad, colour)});
  }
  std::string text = rows.to_text();
  if (!long_names.empty()) text += "In full:\n" + long_names;
  return text;
}

// Limit, value and range of a budget in one unit.
std::vector<std::string> budget_row(const BudgetResult& budget, const decision::FigureSummary& figure,
                                    Colour colour) {
  const figures::Unit unit = figures::display_unit(budget.value, budget.unit);
  // Money is given one digit more than asked for.
  const int digits = unit.dimension == figures::dimensions::money ? 2 : 3;
  const auto text_of = [&](double value) { return figures::format_in_unit(value, unit, digits); };
  const std::string mark = budget.is_implied ? " (part)" : budget.is_hard ? "" : " (wish)";
  return {fmt::format("{}{}", budget.figure, mark),
          text_of(budget.limit),
          text_of(budget.value),
          fmt::format("{}..{}", text_of(figure.low), text_of(figure.high)),
          unit.text,
          painted(margin_bar(budget.margin, bar_width), budget.meets ? Tone::good : Tone::bad, colour),
          fmt::format("{:.0f}%", 100 * budget.probability)};
}

// The choice, how sure it is, and which option leads oftener.
std::string first_lines(const Run& run, const RankedOption& best, Colour colour) {
  const options::Option& option = option_of(run, best);
  const unsigned samples = run.ranking.sampling.samples;
  const std::string sure =
      best.meets_budgets
          ? fmt::format("meets every hard budget in {} of {} samples",
                        share_words(best.probability_meets_budgets, samples, best.standard_error), samples)
          : std::string("though it does not meet every hard budget");
  std::string text =
      wrap(fmt::format("First: {} ({}), {}; first in {} of them where the weights are left open, too. The "
                       "choice is {} ({}).",
                       painted(option.id, Tone::strong, colour), options::to_string(option.kind), sure,
                       share_words(best.first_rank_share, samples), word_of(certainty_of(best)),
                       certainty_scale()),
           columns, "  ");
  if (const std::string rival = rival_words(run); !rival.empty()) text += wrap(rival + ".", columns, "  ");
  if (const std::string range = life_cost_words(best); !range.empty()) {
    text += wrap(fmt::format("life: {} {} at typical inputs ({})", money(best, "cost_per_unit_over_life"),
                             run.study.currency, range),
                 columns, "  ");
  }
  return text;
}

std::string best_option(const Run& run, Colour colour) {
  if (run.ranking.ranked.empty()) return "No option can be built; the reasons are below.\n";
  const RankedOption& best = run.ranking.ranked.front();
  const options::Option& option = option_of(run, best);
  std::string text = first_lines(run, best, colour);
  TextTable rows({{"budget", Align::left},
                  {"limit"},
                  {"value"},
                  {"5 %..95 %", Align::left},
                  {"unit", Align::left},
                  {"margin", Align::left},
                  {"meets"}},
                 1);
  for (const BudgetResult& budget : best.budgets) {
    const auto figure = best.figures.find(budget.figure);
    if (figure != best.figures.end()) rows.add_row(budget_row(budget, figure->second, colour));
  }
  text += rows.to_text();
  for (const std::string& note : option.notes) text += wrap("  " + note, columns, "    ");
  for (const std::string& warning : option.warnings) text += wrap("  Warning: " + warning, columns, "    ");
  return text;
}

// Other ways to choose, and a warning where they would choose otherwise.
std::string other_choices(const Run& run) {
  const decision::Ranking& ranking = run.ranking;
  if (!ranking.expected_choice || !ranking.robust_choice || ranking.ranked.size() < 2) return "";
  const RankedOption& expected = ranking.ranked[*ranking.expected_choice];
  const RankedOption& robust = ranking.ranked[*ranking.robust_choice];
  std::string text =
      wrap(fmt::format("Best on average over the samples: {} (mean margin {:+.2f}); least regret: {} (never "
                       "more than {:.2f} of margin behind the best).",
                       option_of(run, expected).id, expected.regret.expected_worth, option_of(run, robust).id,
                       robust.regret.largest),
           columns, "  ");
  if (ranking.second_opinion && *ranking.second_opinion != 0) {
    text += wrap(
        fmt::format("Warning: a second opinion, by distances to the best and the worst value of each budget "
                    "(TOPSIS), puts {} first; look at what the two trade.",
                    option_of(run, ranking.ranked[*ranking.second_opinion]).id),
        columns, "  ");
  }
  return text;
}

// Which priorities speak for which option.
std::string priorities(const Run& run) {
  constexpr double least_share = 0.005;
  std::vector<Column> headings = {{"option", Align::left}, {"first"}, {"top 3"}, {"worth"}, {"regret"}};
  for (std::size_t i = 0; i < run.study.budgets.size(); ++i) headings.push_back({fmt::format("w{}", i + 1)});
  TextTable rows(headings, 1);
  for (const RankedOption& ranked : run.ranking.ranked) {
    if (ranked.first_rank_share < least_share) continue;
    double first_three = 0;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, ranked.rank_shares.size()); ++i) {
      first_three += ranked.rank_shares[i];
    }
    std::vector<std::string> cells = {
        short_name(option_of(run, ranked).id), fmt::format("{:.0f}%", 100 * ranked.first_rank_share),
        fmt::format("{:.0f}%", 100 * first_three), fmt::format("{:+.2f}", ranked.regret.expected_worth),
        fmt::format("{:.2f}", ranked.regret.largest)};
    for (const double weight : ranked.central_weights)
      cells.push_back(fmt::format("{:.2f}", weight).substr(weight < 1 ? 1 : 0));
    rows.add_row(cells);
  }
  std::string names;
  for (std::size_t i = 0; i < run.study.budgets.size(); ++i) {
    names += fmt::format("{}w{} {}", i == 0 ? "" : ", ", i + 1, run.study.budgets[i].figure);
  }
  return "Which priorities speak for which option\n" + rows.to_text() +
         wrap(fmt::format(
                  "first, top 3: share of samples and weights; worth: mean margin; regret: the most it "
                  "may fall behind the best; w: mean weights with which it is first: {}",
                  names),
              columns, "  ");
}

std::string dominated(const Run& run) {
  std::size_t count = 0;
  for (const RankedOption& ranked : run.ranking.ranked) count += ranked.is_dominated ? 1 : 0;
  if (count == 0) return "";
  return wrap(fmt::format("{} of {} {} dominated: another is as sure, at least as good in every budget's "
                          "figure and better in "
                          "one; --all lists every one.",
                          count, counted(run.ranking.ranked.size(), "option"), count == 1 ? "is" : "are"),
              columns, "  ");
}

// Ids that are longer than a line are broken, too.
std::string wrap_reason(const std::string& reason) {
  const std::string wrapped = wrap(reason, columns, "    ");
  std::string text;
  for (std::size_t at = 0; at < wrapped.size();) {
    const std::size_t end = wrapped.find('\n', at);
    text += wrap_name(std::string_view(wrapped).substr(at, end - at), columns, "    ");
    at = end + 1;
  }
  return text;
}

// What the options would be like at the clocks that were not taken.
std::string other_settings(const Run& run) {
  if (run.other_settings.empty()) return "";
  TextTable rows({{"option", Align::left}, {"clock", Align::left}, {"active"}, {"average"}, {"sure"}}, 1);
  for (const decision::SettingSummary& other : run.other_settings) {
    rows.add_row({short_name(other.option), other.setting,
                  figures::format_quantity(other.active_w, figures::dimensions::power),
                  figures::format_quantity(other.average_w, figures::dimensions::power),
                  fmt::format("{:.0f}%", 100 * other.probability_meets_budgets)});
  }
  return "Other clocks of the processors, each less good by the ranking's rule\n" + rows.to_text();
}

// One reason for each option that misses a hard budget or is dominated.
std::string shortcomings(const Run& run) {
  std::string text;
  for (const RankedOption& ranked : run.ranking.ranked) {
    const std::string why = shortcoming(run, ranked);
    if (why.empty()) continue;
    text += wrap_reason(fmt::format("{}: {}", option_of(run, ranked).id, why));
  }
  return text.empty() ? text : "Over a hard budget, or dominated:\n" + text;
}

// Rejections of one main part for one reason are told once.
std::string rejections(const Run& run, Detail detail) {
  const auto& all = run.considered.rejections;
  if (all.empty()) return "";
  std::string text = fmt::format("Rejected ({}):\n", all.size());
  std::vector<std::pair<std::string, std::vector<std::string>>> by_reason;
  for (const options::Rejection& rejection : all) {
    auto found = std::find_if(by_reason.begin(), by_reason.end(),
                              [&](const auto& entry) { return entry.first == rejection.reason; });
    if (found == by_reason.end()) {
      by_reason.push_back({rejection.reason, {}});
      found = by_reason.end() - 1;
    }
    found->second.push_back(rejection.id);
  }
  constexpr std::size_t most_named = 4;
  for (const auto& [reason, ids] : by_reason) {
    std::vector<std::string> named(
        ids.begin(),
        ids.begin() + static_cast<std::ptrdiff_t>(detail == Detail::all ? ids.size()
                                                                        : std::min(ids.size(), most_named)));
    if (named.size() < ids.size()) named.push_back(fmt::format("{} more", ids.size() - named.size()));
    text += wrap_reason(fmt::format("{}: {}", fmt::join(named, ", "), reason));
  }
  return text;
}

}  // namespace

std::string rank_text(const Run& run, Detail detail, Colour colour) {
  std::string text = heading(run);
  text += table(run, detail, colour);
  text +=
      wrap(fmt::format(
               "*: no option is at least as good in every budget's figure and better in one; cells: logic "
               "cells, or a "
               "microcontroller's clock; unit, life: unit cost, and with its share of one-time and change "
               "cost, in {}, all inputs typical; sure: probability of meeting every hard budget; margin: "
               "smallest to any",
               run.study.currency),
           columns, "  ") +
      "\n";
  text += best_option(run, colour) + "\n";
  if (const std::string others = other_choices(run); !others.empty()) text += others + "\n";
  if (detail == Detail::all && !run.ranking.ranked.empty()) text += priorities(run) + "\n";
  if (detail == Detail::all) text += other_settings(run) + "\n";
  text += detail == Detail::best ? dominated(run) : shortcomings(run);
  return text + rejections(run, detail) + notices_text(run.notices);
}

}  // namespace portweigh::report

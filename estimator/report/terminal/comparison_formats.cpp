// A comparison of two runs as text, JSON and HTML.
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/document/html.hpp"
#include "report/escape.hpp"
#include "report/number_words.hpp"
#include "report/saved/compare_runs.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

using figures::format_quantity;
using nlohmann::ordered_json;

constexpr int columns = 80;

enum class Detail { typical, ranges };

std::string range_text(const std::optional<figures::Range>& range, const figures::Unit& unit, Detail detail) {
  if (!range) return "-";
  const std::string typical = format_quantity(range->typical, unit, 4);
  if (range->low == range->high || detail == Detail::typical) return typical;
  return fmt::format("{} ({} .. {})", typical, format_quantity(range->low, unit),
                     format_quantity(range->high, unit));
}

std::string value_text(const std::optional<double>& value, const figures::Unit& unit) {
  return value ? format_quantity(*value, unit, 4) : "-";
}

// One row for each thing about a budget that changed.
void add_budget_rows(Table& table, const std::optional<SavedBudget>& before,
                     const std::optional<SavedBudget>& after) {
  const std::string& figure = after ? after->figure : before->figure;
  const auto add = [&](std::string_view what, auto text_of) {
    const std::string old_text = before ? text_of(*before) : "-";
    const std::string new_text = after ? text_of(*after) : "-";
    if (old_text != new_text)
      table.rows.push_back({fmt::format("{} of {}", what, figure), old_text, new_text});
  };
  add("limit (SI)", [](const SavedBudget& budget) { return fmt::format("{:.6g}", budget.limit); });
  add("weight", [](const SavedBudget& budget) { return fmt::format("{:.4g}", budget.weight); });
  add("wanted margin", [](const SavedBudget& budget) { return fmt::format("{:.4g}", budget.margin); });
  add("strength", [](const SavedBudget& budget) { return std::string(budget.is_hard ? "hard" : "wish"); });
}

Table input_table(const RunComparison& comparison, Detail detail) {
  Table table{"Inputs that moved.", {"input", "before", "after"}, {}};
  for (const figures::InputChange& change : comparison.inputs) {
    table.rows.push_back({change.key, range_text(change.before, change.unit, detail),
                          range_text(change.after, change.unit, detail)});
  }
  for (const auto& [before, after] : comparison.budgets) add_budget_rows(table, before, after);
  return table;
}

Table rank_table(const RunComparison& comparison) {
  Table table{"Options in the later order: rank, probability of keeping all hard budgets, weighted margin.",
              {"option", "rank", "probability", "margin"},
              {}};
  for (const RankChange& change : comparison.ranks) {
    const auto rank = [](const std::optional<unsigned>& of) { return of ? fmt::format("{}", *of) : "-"; };
    table.rows.push_back(
        {change.option, rank(change.before) + " → " + rank(change.after),
         fmt::format("{:.0f} → {:.0f} %", 100 * change.probability_before, 100 * change.probability_after),
         signed_fixed(100 * change.margin_before, 1) + " → " + signed_fixed(100 * change.margin_after, 1) +
             " %"});
  }
  return table;
}

// A terminal has room for the leaders' figures only.
Table figure_table(const RunComparison& comparison, Detail detail) {
  Table table{detail == Detail::ranges ? "Figures that followed." : "Figures of the leaders that followed.",
              {"option", "figure", "before", "after", "change"},
              {}};
  for (const MovedFigure& moved : comparison.figures) {
    const bool leads = moved.option == comparison.leader_before || moved.option == comparison.leader_after;
    if (detail == Detail::typical && !leads) continue;
    const figures::FigureChange& change = moved.change;
    const bool has_ratio =
        change.before_si && change.after_si && *change.before_si != 0 && change.unit.offset == 0;
    table.rows.push_back(
        {moved.option, detail == Detail::typical ? change.key : label_of_figure(change.key),
         value_text(change.before_si, change.unit), value_text(change.after_si, change.unit),
         has_ratio ? signed_fixed(100 * (*change.after_si / *change.before_si - 1), 1) + " %" : "-"});
  }
  return table;
}

Table effect_table(const RunComparison& comparison) {
  Table table{fmt::format("Each input moved alone: how it changes {}'s weighted margin less {}'s.",
                          comparison.leader_after, comparison.leader_before),
              {"input", "effect"},
              {}};
  for (const Effect& effect : comparison.effects) {
    table.rows.push_back({effect.input, signed_fixed(100 * effect.change, 2) + " points"});
  }
  return table;
}

std::vector<Table> tables_of(const RunComparison& comparison, Detail detail) {
  std::vector<Table> tables;
  for (Table& table : std::vector<Table>{effect_table(comparison), input_table(comparison, detail),
                                         rank_table(comparison), figure_table(comparison, detail)}) {
    if (!table.rows.empty()) tables.push_back(std::move(table));
  }
  return tables;
}

ordered_json range_json(const std::optional<figures::Range>& range) {
  if (!range) return nullptr;
  return {{"low", range->low}, {"typical", range->typical}, {"high", range->high}};
}

template <typename Value>
ordered_json value_json(const std::optional<Value>& value) {
  return value ? ordered_json(*value) : ordered_json(nullptr);
}

ordered_json budget_json(const std::optional<SavedBudget>& budget) {
  if (!budget) return nullptr;
  return {{"figure", budget->figure},
          {"limit", budget->limit},
          {"margin", budget->margin},
          {"weight", budget->weight},
          {"hard", budget->is_hard}};
}

}  // namespace

std::string comparison_text(const RunComparison& comparison) {
  std::string text = wrap(fmt::format("{} compared with {}", comparison.study_before, comparison.study_after),
                          columns, "  ") +
                     "\n";
  for (const std::string& sentence : comparison.conclusion) text += wrap(sentence, columns, "  ");
  for (const Table& table : tables_of(comparison, Detail::typical)) {
    std::vector<Column> heads;
    for (std::size_t i = 0; i < table.titles.size(); ++i) {
      heads.push_back({table.titles[i], i == 0 ? Align::left : Align::right});
    }
    TextTable rows(heads);
    for (const auto& row : table.rows) rows.add_row(row);
    text += "\n" + wrap(table.caption, columns, "  ") + rows.to_text(columns);
  }
  return text + notices_text(comparison.notices);
}

ordered_json comparison_json(const RunComparison& comparison) {
  ordered_json inputs = ordered_json::array();
  for (const auto& change : comparison.inputs) {
    inputs.push_back(
        {{"input", change.key}, {"before", range_json(change.before)}, {"after", range_json(change.after)}});
  }
  ordered_json budgets = ordered_json::array();
  for (const auto& [before, after] : comparison.budgets) {
    budgets.push_back({{"before", budget_json(before)}, {"after", budget_json(after)}});
  }
  ordered_json figures = ordered_json::array();
  for (const auto& moved : comparison.figures) {
    figures.push_back({{"option", moved.option},
                       {"figure", moved.change.key},
                       {"before", value_json(moved.change.before_si)},
                       {"after", value_json(moved.change.after_si)}});
  }
  ordered_json ranks = ordered_json::array();
  for (const auto& change : comparison.ranks) {
    ranks.push_back({{"option", change.option},
                     {"before", value_json(change.before)},
                     {"after", value_json(change.after)},
                     {"probability_before", change.probability_before},
                     {"probability_after", change.probability_after},
                     {"margin_before", change.margin_before},
                     {"margin_after", change.margin_after},
                     {"reason", change.reason}});
  }
  ordered_json effects = ordered_json::array();
  for (const auto& effect : comparison.effects)
    effects.push_back({{"input", effect.input}, {"change", effect.change}});
  ordered_json json = {{"leader_before", comparison.leader_before},
                       {"leader_after", comparison.leader_after},
                       {"conclusion", comparison.conclusion},
                       {"effects", std::move(effects)},
                       {"inputs", std::move(inputs)},
                       {"budgets", std::move(budgets)},
                       {"figures", std::move(figures)},
                       {"ranks", std::move(ranks)}};
  add_notices(json, comparison.notices);
  return json;
}

std::string comparison_html(const RunComparison& comparison) {
  const std::string title =
      fmt::format("{} compared with {}", comparison.study_before, comparison.study_after);
  std::string body = "<a class=\"skip\" href=\"#conclusion\">Skip to the conclusion</a>\n";
  body +=
      fmt::format("<header><p class=\"kind\">What moved between two runs</p><h1>{}</h1></header>\n<main>\n",
                  html_text(title));
  body +=
      "<section id=\"conclusion\" aria-labelledby=\"conclusion-title\"><h2 "
      "id=\"conclusion-title\">Conclusion</h2>\n";
  for (std::size_t i = 0; i < comparison.conclusion.size(); ++i) {
    body +=
        fmt::format("<p{}>{}</p>\n", i == 0 ? " class=\"verdict\"" : "", html_text(comparison.conclusion[i]));
  }
  body += "</section>\n" + cautions_section(comparison.notices);
  body +=
      "<section id=\"changes\" aria-labelledby=\"changes-title\"><h2 "
      "id=\"changes-title\">Changes</h2>\n";
  std::size_t index = 0;
  for (const Table& table : tables_of(comparison, Detail::ranges)) {
    body += fmt::format("<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">{}</div>\n",
                        html_text(table.caption), html_table(table, fmt::format("changes-{}", index++)));
  }
  body += html_exclusions(comparison.notices);
  return plain_page(title, body + "</section>\n</main>\n");
}

}  // namespace portweigh::report

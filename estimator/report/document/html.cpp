#include "report/document/html.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "figures/units/format_quantity.hpp"
#include "report/document/page_data.hpp"
#include "report/document/page_files.hpp"
#include "report/escape.hpp"

namespace portweigh::report {
namespace {

using decision::BudgetResult;
using decision::RankedOption;
using figures::format_quantity;

constexpr std::size_t most_flips = 10;  // as many as charts.js draws
constexpr std::string_view policy =
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; base-uri "
    "'none'; "
    "form-action 'none'";

struct Chart {
  std::string id;
  std::string title;
  std::string caption;     // what to see
  std::string live;        // "live": follows moved inputs; "recorded": shows the recorded run only
  std::size_t height = 0;  // kept free until it is drawn, in px
  Table table;
};

std::string section(const std::string& id, const std::string& title, const std::string& body) {
  return fmt::format(
      "<section id=\"{0}\" aria-labelledby=\"{0}-title\">\n<h2 id=\"{0}-title\">{1}</h2>\n{2}</section>\n",
      id, html_text(title), body);
}

std::string html_list(const std::vector<std::string>& sentences) {
  std::string items;
  for (const std::string& sentence : sentences) items += fmt::format("<li>{}</li>\n", html_text(sentence));
  return "<ul>\n" + items + "</ul>\n";
}

std::string details(const std::string& summary, const std::string& body) {
  return fmt::format("<details><summary>{}</summary>\n{}</details>\n", html_text(summary), body);
}

std::string scrolled(const std::string& label, const std::string& table) {
  return fmt::format("<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">{}</div>\n",
                     html_text(label), table);
}

std::string chart(const Chart& of) {
  return fmt::format(
      "<figure class=\"chart {4}\" id=\"chart-{0}\">\n<h3>{1}</h3>\n<div class=\"tools\"></div>"
      "<div class=\"canvas\" role=\"img\" aria-label=\"{1}. {2}\" "
      "style=\"min-height:{5}px\"></div>\n<figcaption>{2}</figcaption>\n{3}</figure>\n",
      of.id, html_text(of.title), html_text(of.caption),
      details("Table behind the chart", scrolled(of.title, html_table(of.table, "table-" + of.id))), of.live,
      of.height);
}

// A figure that can be clicked for its derivation and is rewritten when inputs move.
std::string figure_button(const std::string& option, const std::string& figure, double value,
                          const figures::Unit& unit) {
  return fmt::format(
      "<button type=\"button\" class=\"figure\" data-option=\"{}\" data-figure=\"{}\" "
      "data-value=\"{}\">{}</button>",
      html_text(option), html_text(figure), value, html_text(format_quantity(value, unit)));
}

std::string margin_text(double margin) {
  return fmt::format("{}{:.0f}\u00A0%", margin < 0 ? "\u2212" : "+", std::abs(100 * margin));
}

// A miss is told by the minus sign, the hatched bar and, to those who listen, in words.
std::string budget_cell(const std::string& option, const BudgetResult& budget, std::size_t index) {
  return fmt::format(
      R"(<td class="budget {0}" data-budget="{1}">{2}<span class="bar" aria-hidden="true"><i style="width:{3:.0f}%">)"
      R"(</i></span><span class="margin"><span class="spoken">{4}</span>{5}</span></td>)",
      budget.meets ? "holds" : "misses", index,
      figure_button(option, budget.figure, budget.value, budget.unit), 50 * std::abs(budget.margin),
      budget.meets ? "" : "misses ", margin_text(budget.margin));
}

std::string budget_heads(const Document& document) {
  std::string heads =
      R"(<th scope="col">#</th><th scope="col">option</th><th scope="col">sure<small>keeps all</small></th>)"
      R"(<th scope="col">leads<small class="first"></small></th>)";
  const auto& first = ranked_at(document, 0).budgets;
  for (std::size_t b = 0; b < first.size(); ++b) {
    if (first[b].is_implied) continue;
    heads += fmt::format(
        R"(<th scope="col" data-budget="{}">{}<small>{} <span class="limit">{}</span></small></th>)", b,
        html_text(label_of_figure(first[b].figure)), first[b].is_hard ? "at most" : "wish",
        html_text(format_quantity(first[b].limit, first[b].unit)));
  }
  return heads;
}

std::string budget_row(const RankedOption& ranked, const options::Option& option) {
  std::string row = fmt::format(
      R"(<tr data-option="{0}" class="{1}"><td class="rank">{2}</td><th scope="row">{0}<small>{3}</small></th>)"
      "<td class=\"sure\">{4:.0f}\u00A0%</td><td>{5:.0f}\u00A0%</td>",
      html_text(option.id), ranked.meets_budgets ? "holds" : "misses", ranked.rank,
      html_text(options::to_string(option.kind)), 100 * ranked.probability_meets_budgets,
      100 * ranked.first_rank_share);
  for (std::size_t b = 0; b < ranked.budgets.size(); ++b) {
    if (!ranked.budgets[b].is_implied) row += budget_cell(option.id, ranked.budgets[b], b);
  }
  return row + "</tr>\n";
}

std::string budgets_table(const Document& document) {
  std::string body;
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    body += budget_row(ranked_at(document, i), option_at(document, i));
  }
  return fmt::format(
      R"(<table id="budgets-table"><caption>Each cell: typical value, and the margin to the budget as a bar and a )"
      R"(number. Select a value to see where it comes from. Sure: probability of keeping all hard budgets.</caption>)"
      R"(<thead><tr>{}</tr></thead><tbody>{}</tbody></table>)",
      budget_heads(document), body);
}

std::string recommendation(const Document& document) {
  std::string body;
  for (std::size_t i = 0; i < document.recommendation.size(); ++i) {
    body += fmt::format("<p{}>{}</p>\n", i == 0 ? " class=\"verdict\"" : "",
                        html_text(document.recommendation[i]));
  }
  return section("recommendation", "Recommendation", body);
}

std::string options_section(const Document& document) {
  if (document.shown.empty())
    return section("options", "Options against budgets",
                   "<p>No option can be built.</p>\n" + html_exclusions(document.run->notices));
  const std::size_t left_out = document.run->ranking.ranked.size() - document.shown.size();
  std::string body = scrolled("Options against budgets", budgets_table(document));
  body += fmt::format(
      "<p class=\"note\">Shown are the best options, the best of each kind, and those that lead somewhere in "
      "the charts; "
      "{} more can be built (<code>rank --all</code> lists them).</p>\n",
      left_out);
  if (const Table settings = settings_table(document); !settings.rows.empty()) {
    body += details("Other clocks of these options, and how they fare",
                    scrolled("Other clocks", html_table(settings, "settings-table")));
  }
  body += html_exclusions(document.run->notices);
  return section("options", "Options against budgets", body);
}

std::string charts_section(const Document& document) {
  if (document.shown.empty()) return "";
  const std::size_t rows = document.shown.size();
  std::string body;
  body +=
      chart({"tradeoff", "Two budgets at a time",
             "Lower left is better; inside both dashed lines is where an option must be. The cross on each "
             "mark reaches from the 5 % to the 95 % point; the numbers are ranks.",
             "live", 450, options_table(document)});
  body += chart({"power", "Power by state and contributor",
                 "What takes the power, state by state; each panel has its own scale. Look which contributor "
                 "dominates where the product spends its time.",
                 "live", (rows * 18 + 60) * 2, power_table(document)});
  body +=
      chart({"cost", "Cost of a unit over its life",
             "Where a cheap part is paid for with engineering or with change: compare whole bars, then what "
             "they are made of.",
             "live", rows * 30 + 90, cost_table(document)});
  body += chart({"probability", "Probability of keeping each budget",
                 "Darker is surer. Look for options that are safe in every column; a wish may be missed.",
                 "live", rows * 26 + 80, probability_table(document)});
  body += chart(
      {"shares", "Rank shares",
       "How often each option gets each of the first ranks when weights and uncertain inputs are drawn at "
       "random. A long first bar is right for most priorities.",
       "recorded", document.analysis.rank_shares.options.size() * 30 + 90, rank_share_table(document)});
  return section("charts", "In pictures", body);
}

std::string change_section(const Document& document) {
  if (document.shown.empty()) return "";
  std::string body;
  body += chart({"flips", "What drives the ranking",
                 "How far one input alone must move until another option leads than " +
                     document.analysis.typical_leader +
                     ". Marks inside the bars can happen; "
                     "marks outside need a change beyond what is thought possible.",
                 "recorded",
                 std::min<std::size_t>(most_flips, document.analysis.sensitivity.flips.size()) * 34 + 50,
                 flips_table(document)});
  if (!document.analysis.winner_map.leaders.empty()) {
    body += chart(
        {"map", "Who leads where",
         "The leader at each clock rate and duty cycle, other inputs typical. Large areas of one letter "
         "mean that the choice doesn't hang on these two.",
         "live", 420, winner_table(document)});
  }
  body +=
      chart({"drivers", "What makes the figures uncertain",
             "Inputs that the uncertainty of the leader's figures goes back to: a better number there is "
             "worth most.",
             "recorded", document.analysis.sensitivity.figures.size() * 72 + 50, drivers_table(document)});
  return section("change", "What would change the decision", body);
}

std::string rejected_section(const Document& document) {
  if (document.rejected.empty()) return section("rejected", "Rejected options", "<p>None.</p>\n");
  std::string rows;
  for (const RejectedGroup& group : document.rejected) {
    constexpr std::size_t most_named = 6;
    std::string names;
    for (std::size_t i = 0; i < std::min(group.ids.size(), most_named); ++i) {
      names += (i > 0 ? ", " : "") + html_text(group.ids[i]);
    }
    if (group.ids.size() > most_named) names += fmt::format(" and {} more", group.ids.size() - most_named);
    rows += fmt::format("<tr><th scope=\"row\">{}</th><td>{}</td></tr>\n", names, html_text(group.reason));
  }
  return section(
      "rejected", "Rejected options",
      scrolled(
          "Rejected options",
          fmt::format("<table class=\"text\"><caption>Options that cannot be built, and the number that "
                      "failed.</caption><thead><tr><th scope=\"col\">option</th><th scope=\"col\">why not"
                      "</th></tr></thead><tbody>{}</tbody></table>",
                      rows)));
}

std::string assumption_rows(const std::vector<const Assumption*>& assumptions) {
  std::string rows;
  for (const Assumption* one : assumptions) {
    const std::string range = one->range.empty() ? "" : html_text(one->range) + "<br>";
    rows += fmt::format(
        R"(<tr><th scope="row">{}<small>{}</small></th><td>{}</td><td>{}{}</td><td>{}<small>{}</small></td></tr>)",
        html_text(one->label), html_text(one->key), html_text(one->value), range, html_text(one->confidence),
        html_text(one->source), html_text(one->place));
    rows += "\n";
  }
  return fmt::format(
      R"(<thead><tr><th scope="col">input</th><th scope="col">typical</th><th scope="col">range and confidence</th>)"
      R"(<th scope="col">source</th></tr></thead><tbody>{}</tbody>)",
      rows);
}

std::string assumptions_section(const Document& document) {
  std::vector<const Assumption*> key;
  std::vector<const Assumption*> given;
  std::vector<const Assumption*> counted;
  for (const Assumption& one : document.assumptions) {
    if (one.matters) key.push_back(&one);
    (one.is_counted ? counted : given).push_back(&one);
  }
  std::string body =
      scrolled("Assumptions that matter most",
               fmt::format("<table class=\"text assumptions\"><caption>Inputs that drive the leader's "
                           "figures or whose change makes another "
                           "option lead.</caption>{}</table>",
                           assumption_rows(key)));
  body += details(
      fmt::format("All {} inputs from catalog and study", given.size()),
      scrolled(
          "All inputs",
          fmt::format("<table class=\"text assumptions\"><caption>Inputs from files.</caption>{}</table>",
                      assumption_rows(given))));
  body += details(
      fmt::format("All {} counted values", counted.size()),
      scrolled("Counted values",
               fmt::format(
                   "<table class=\"text assumptions\"><caption>Results of covering, simulation and execution."
                   "</caption>{}</table>",
                   assumption_rows(counted))));
  return section("assumptions", "Assumptions and their sources", body);
}

std::string method_section(const Document& document) {
  std::string body;
  for (const std::string& sentence : document.method) body += fmt::format("<p>{}</p>\n", html_text(sentence));
  return section("method", "Method", body);
}

std::string warnings_section(const Document& document) {
  return document.warnings.empty() ? "" : section("warnings", "Warnings", html_list(document.warnings));
}

std::string head(const std::string& title) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"color-scheme\" content=\"light "
      "dark\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n",
      policy, html_text(title), page::style);
}

std::string navigation() {
  const std::pair<const char*, const char*> places[] = {
      {"options", "options"},   {"charts", "charts"},           {"change", "what would change it"},
      {"rejected", "rejected"}, {"assumptions", "assumptions"}, {"method", "method"}};
  std::string links;
  for (const auto& [id, name] : places)
    links += fmt::format("<li><a href=\"#{}\" data-place>{}</a></li>", id, name);
  return "<nav aria-label=\"Sections\"><ul>" + links + "</ul></nav>\n";
}

}  // namespace

std::string html_exclusions(const Notices& notices) {
  std::string body;
  for (const std::string& line : exclusion_lines(notices.excluded)) {
    body += fmt::format("<p class=\"note\">{}</p>\n", html_text(line));
  }
  return body;
}

std::string cautions_section(const Notices& notices) {
  return section("cautions", "Cautions", html_list(notices.cautions));
}

std::string html_table(const Table& table, const std::string& id) {
  std::string heads;
  for (const std::string& title : table.titles)
    heads += fmt::format("<th scope=\"col\">{}</th>", html_text(title));
  std::string rows;
  for (const auto& row : table.rows) {
    rows += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      rows += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", html_text(row[i]))
                     : fmt::format("<td>{}</td>", html_text(row[i]));
    }
    rows += "</tr>\n";
  }
  return fmt::format(
      "<table id=\"{}\"><caption>{}</caption><thead><tr>{}</tr></thead><tbody>{}</tbody></table>", id,
      html_text(table.caption), heads, rows);
}

std::string plain_page(const std::string& title, const std::string& body) {
  return head(title) + "<body>\n" + body + "</body>\n</html>\n";
}

std::string report_html(const Document& document) {
  std::string body = "<a class=\"skip\" href=\"#recommendation\" data-place>Skip to the recommendation</a>\n";
  body += fmt::format(
      "<header>\n<p class=\"kind\">Which silicon carries the port</p>\n<h1>{}</h1>\n<p>{}</p>\n{}</header>\n",
      html_text(document.title), html_text(document.summary), navigation());
  body += "<div id=\"moved\" role=\"status\" hidden></div>\n<main>\n";
  body += recommendation(document) + cautions_section(document.run->notices);
  body += "<section id=\"whatif\" aria-labelledby=\"whatif-title\" hidden></section>\n";
  body += options_section(document) + charts_section(document) + change_section(document) +
          rejected_section(document) + assumptions_section(document) + method_section(document) +
          warnings_section(document);
  body += "</main>\n<footer><p>Made by portweigh. The charts are drawn by Vega.</p></footer>\n";
  body += "<dialog id=\"derivation\" aria-labelledby=\"derivation-title\"></dialog>\n";
  if (!document.shown.empty()) {
    body += fmt::format("<script type=\"application/json\" id=\"data\">{}</script>\n",
                        json_in_script(page_data(document)));
    body += fmt::format("<script>\n{}</script>\n<script>\n\"use strict\";\n{}</script>\n", page::vega,
                        page::scripts);
  }
  return plain_page(document.title + ": which silicon carries the port", body);
}

}  // namespace portweigh::report

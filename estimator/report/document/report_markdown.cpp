#include <fmt/format.h>

#include "report/document/report_formats.hpp"
#include "report/escape.hpp"

namespace portweigh::report {
namespace {

std::string table_text(const Table& table) {
  if (table.rows.empty()) return "Nothing to show.\n\n";
  std::string text = markdown_text(table.caption) + "\n\n|";
  for (const std::string& title : table.titles) text += " " + markdown_text(title) + " |";
  text += "\n|";
  for (std::size_t i = 0; i < table.titles.size(); ++i) text += " --- |";
  text += "\n";
  for (const auto& row : table.rows) {
    text += "|";
    for (const std::string& cell : row) text += " " + markdown_text(cell) + " |";
    text += "\n";
  }
  return text + "\n";
}

std::string section(const std::string& title, const std::string& body) {
  return "## " + title + "\n\n" + body;
}

std::string paragraphs(const std::vector<std::string>& sentences) {
  std::string text;
  for (const std::string& sentence : sentences) text += markdown_text(sentence) + "\n\n";
  return text;
}

std::string items(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += "- " + markdown_text(line) + "\n";
  return text + "\n";
}

std::string rejected_text(const Document& document) {
  std::vector<std::string> lines;
  for (const RejectedGroup& group : document.rejected) {
    lines.push_back(fmt::format("{}: {}", fmt::join(group.ids, ", "), group.reason));
  }
  return lines.empty() ? "None.\n\n" : items(lines);
}

Table assumption_table(const Document& document) {
  Table table{"Every input of the shown options, with what it rests on.",
              {"input", "typical", "range", "confidence", "source", "place"},
              {}};
  for (const Assumption& one : document.assumptions) {
    table.rows.push_back({one.label + " (" + one.key + ")", one.value,
                          one.range.empty() ? "exact" : one.range, one.source, one.place});
  }
  return table;
}

}  // namespace

std::string report_markdown(const Document& document) {
  std::string text = "# " + markdown_text(document.title) + ": which silicon carries the port\n\n" +
                     markdown_text(document.summary) + "\n\n";
  text += section("Recommendation", paragraphs(document.recommendation));
  const Notices& notices = document.run->notices;
  text += section("Cautions", items(notices.cautions));
  text += section("Options against budgets",
                  table_text(options_table(document)) + paragraphs(exclusion_lines(notices.excluded)));
  text += section("Power by state", table_text(power_table(document)));
  text += section("Other clocks", table_text(settings_table(document)));
  text += section("Cost over life", table_text(cost_table(document)));
  text += section("Probability of keeping each budget", table_text(probability_table(document)));
  text += section("What would change the decision",
                  table_text(flips_table(document)) + table_text(winner_table(document)) +
                      table_text(rank_share_table(document)) + table_text(drivers_table(document)));
  text += section("Rejected options", rejected_text(document));
  text += section("Assumptions", table_text(assumption_table(document)));
  text += section("Method", paragraphs(document.method));
  if (!document.warnings.empty()) text += section("Warnings", items(document.warnings));
  return text;
}

}  // namespace portweigh::report

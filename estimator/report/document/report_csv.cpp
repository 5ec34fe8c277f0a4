#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "report/document/report_formats.hpp"

namespace portweigh::report {
namespace {

enum Column {
  section,
  subject,
  name,
  value,
  unit,
  low,
  high,
  limit,
  margin,
  probability,
  text,
  source,
  columns
};

using Row = std::array<std::string, columns>;

constexpr std::array<std::string_view, columns> titles = {"section", "subject",     "name", "value",
                                                          "unit",    "low",         "high", "limit",
                                                          "margin",  "probability", "text", "source"};

std::string number(double value) {
  return fmt::format("{}", value);
}

std::string unit_text(const figures::Unit& unit, const std::string& currency) {
  return figures::coherent_unit(unit.dimension, currency).text;
}

class Writer {
 public:
  Writer() {
    Row head;
    for (std::size_t i = 0; i < columns; ++i) head[i] = titles[i];
    add(head);
  }
  void add(const Row& row) {
    for (std::size_t i = 0; i < columns; ++i) result_ += (i > 0 ? "," : "") + csv_cell(row[i]);
    result_ += "\r\n";
  }
  void add_text(const std::string& of_section, const std::string& of_subject, const std::string& words) {
    Row row;
    row[section] = of_section;
    row[subject] = of_subject;
    row[text] = words;
    add(row);
  }
  std::string take() { return std::move(result_); }

 private:
  std::string result_;
};

void add_option(Writer& writer, const Document& document, std::size_t i) {
  const decision::RankedOption& ranked = ranked_at(document, i);
  const options::Option& option = option_at(document, i);
  const std::string& currency = document.run->study.currency;
  Row row;
  row[section] = "option";
  row[subject] = option.id;
  row[name] = "rank";
  row[value] = number(ranked.rank);
  row[unit] = "1";
  row[probability] = number(ranked.probability_meets_budgets);
  row[text] = options::to_string(option.kind);
  writer.add(row);
  for (const auto& [key, figure] : ranked.figures) {
    Row of_figure;
    of_figure[section] = "figure";
    of_figure[subject] = option.id;
    of_figure[name] = key;
    of_figure[value] = number(figure.value);
    of_figure[unit] = unit_text(figure.unit, currency);
    of_figure[low] = number(figure.low);
    of_figure[high] = number(figure.high);
    writer.add(of_figure);
  }
  for (const decision::BudgetResult& budget : ranked.budgets) {
    Row of_budget;
    of_budget[section] = "budget";
    of_budget[subject] = option.id;
    of_budget[name] = budget.figure;
    of_budget[value] = number(budget.value);
    of_budget[unit] = unit_text(budget.unit, currency);
    of_budget[limit] = number(budget.limit);
    of_budget[margin] = number(budget.margin);
    of_budget[probability] = number(budget.probability);
    of_budget[text] = budget.is_hard ? (budget.is_implied ? "limit of the option" : "hard") : "wish";
    writer.add(of_budget);
  }
}

void add_other_settings(Writer& writer, const Document& document, const std::string& id) {
  for (const decision::SettingSummary& other : document.run->other_settings_of(id)) {
    for (const auto& [key, watts] :
         {std::pair{"active_power", other.active_w}, {"average_power", other.average_w}}) {
      Row row;
      row[section] = "other setting";
      row[subject] = id;
      row[name] = key;
      row[value] = number(watts);
      row[unit] = "W";
      row[probability] = number(other.probability_meets_budgets);
      row[text] = other.setting;
      writer.add(row);
    }
  }
}

void add_inputs(Writer& writer, const Document& document) {
  std::vector<std::string> seen;
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    for (const figures::Input& input : option_at(document, i).ledger.inputs()) {
      if (std::find(seen.begin(), seen.end(), input.key) != seen.end()) continue;
      seen.push_back(input.key);
      Row row;
      row[section] = "assumption";
      row[subject] = input.label;
      row[name] = input.key;
      row[value] = number(input.range.typical);
      row[unit] = unit_text(input.unit, document.run->study.currency);
      row[low] = number(input.range.low);
      row[high] = number(input.range.high);
      row[text] = input.source.text;
      row[source] = document.run->places.of(input.source);
      writer.add(row);
    }
  }
}

}  // namespace

std::string report_csv(const Document& document) {
  Writer writer;
  writer.add_text("study", document.title, document.summary);
  for (const std::string& sentence : document.recommendation) writer.add_text("recommendation", "", sentence);
  const Notices& notices = document.run->notices;
  for (const std::string& sentence : notices.cautions) writer.add_text("caution", "", sentence);
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    add_option(writer, document, i);
    add_other_settings(writer, document, option_at(document, i).id);
  }
  for (const NamedFlip& named : document.analysis.sensitivity.flips) {
    Row row;
    row[section] = "flip";
    row[subject] = named.new_leader;
    row[name] = named.flip.input;
    row[value] = number(named.flip.value);
    row[unit] = unit_text(named.unit, document.run->study.currency);
    row[text] = named.flip.is_within_range ? "within its range" : "outside its range";
    writer.add(row);
  }
  for (const RejectedGroup& group : document.rejected) {
    for (const std::string& id : group.ids) writer.add_text("rejected", id, group.reason);
  }
  for (const Exclusion& one : notices.excluded) writer.add_text("excluded", one.id, one.reason);
  add_inputs(writer, document);
  for (const std::string& sentence : document.method) writer.add_text("method", "", sentence);
  for (const std::string& sentence : document.warnings) writer.add_text("warning", "", sentence);
  return writer.take();
}

}  // namespace portweigh::report

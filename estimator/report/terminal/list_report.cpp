#include "report/terminal/list_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {

namespace {

std::string wrapped_rest(const std::vector<std::string>& row, int width) {
  const std::string rest = fmt::format("{}", fmt::join(row.begin() + 1, row.end(), "; "));
  constexpr int indent = 4;
  return std::string(indent, ' ') + wrap(rest, width - indent, "      ");
}

}  // namespace

Listing list_inputs(const std::vector<options::Option>& options) {
  std::map<std::string, std::vector<std::string>> rows;
  for (const options::Option& option : options) {
    for (const figures::Input& input : option.ledger.inputs()) {
      const auto text = [&](double value) { return figures::format_quantity(value, input.unit); };
      const std::string range = input.range.low == input.range.high
                                    ? text(input.range.typical)
                                    : fmt::format("{} ({}..{})", text(input.range.typical),
                                                  text(input.range.low), text(input.range.high));
      rows.try_emplace(input.key, std::vector<std::string>{input.key, range, input.label});
    }
  }
  Listing listing{"inputs", {"input", "typical (low..high)", "meaning"}, {}};
  for (auto& [key, row] : rows) listing.rows.push_back(std::move(row));
  return listing;
}

Listing list_figures(const std::vector<options::Option>& options) {
  std::map<std::string, std::vector<std::string>> rows;
  for (const options::Option& option : options) {
    for (const std::uint32_t node : option.ledger.named_nodes()) {
      const figures::Name& name = *option.ledger.name_of(node);
      rows.try_emplace(name.key, std::vector<std::string>{name.key, name.unit.text, name.label});
    }
  }
  Listing listing{"figures", {"figure", "unit", "meaning"}, {}};
  for (auto& [key, row] : rows) listing.rows.push_back(std::move(row));
  return listing;
}

std::string listing_text(const Listing& listing) {
  constexpr int width = 80;
  constexpr std::size_t longest_name = 30;
  std::size_t longest = 0;
  for (const auto& row : listing.rows) longest = std::max(longest, display_width(row.front()));
  if (longest > longest_name) {
    // A name stays in one piece, so that it can be copied.
    std::string text = fmt::format("{}\n", fmt::join(listing.titles, "; "));
    for (const auto& row : listing.rows) {
      text += row.front() + "\n" + wrapped_rest(row, width);
    }
    return text;
  }
  std::vector<Column> columns;
  for (const std::string& title : listing.titles) columns.push_back({title, Align::left});
  TextTable table(std::move(columns));
  for (const auto& row : listing.rows) table.add_row(row);
  return table.to_text(width);
}

nlohmann::ordered_json listing_json(const Listing& listing) {
  nlohmann::ordered_json rows = nlohmann::ordered_json::array();
  for (const auto& row : listing.rows) {
    nlohmann::ordered_json entry;
    for (std::size_t i = 0; i < row.size(); ++i) entry[listing.titles[i]] = row[i];
    rows.push_back(std::move(entry));
  }
  return {{listing.name, std::move(rows)}};
}

}  // namespace portweigh::report

// The part of TableReader that reads physical values: quantities and ranges.
#include <toml++/toml.h>

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "figures/units/format_quantity.hpp"
#include "reading/document_state.hpp"
#include "reading/node_text.hpp"
#include "reading/suggest.hpp"
#include "reading/table_reader.hpp"

namespace portweigh::reading {
namespace {

constexpr std::string_view range_keys[] = {"low", "typical", "high", "source"};

std::string expected_quantity(const QuantityRule& rule) {
  if (figures::is_dimensionless(rule.dimension)) return "a number, or a string such as \"35 %\"";
  return fmt::format("{} as a string with a unit", figures::describe(rule.dimension));
}

std::string expected_range(const QuantityRule& rule) {
  return expected_quantity(rule) + ", or { low, typical, high }";
}

SourcedRange harmless(const QuantityRule& rule, figures::Source source) {
  return {figures::exactly(0.0), figures::coherent_unit(rule.dimension), std::move(source)};
}

}  // namespace

std::optional<figures::Quantity> TableReader::parse_node(const toml::node& node, std::string_view key,
                                                         const QuantityRule& rule) {
  if (node.is_number() && figures::is_dimensionless(rule.dimension)) {
    return figures::Quantity{node.value<double>().value_or(0.0), figures::Unit{}};
  }
  const auto* text = node.as_string();
  if (text == nullptr) {
    const auto given = node.is_number() ? "the plain number " + value_text(node) : kind_of(node);
    report_at(node, fmt::format("\"{}\" is {}, expected {}", key, given, expected_quantity(rule)));
    return std::nullopt;
  }
  try {
    auto quantity = figures::parse_quantity(text->get());
    if (quantity.unit.dimension != rule.dimension) {
      report_at(node,
                fmt::format("\"{}\" is {}, which is {}, expected {}", key, value_text(node),
                            figures::describe(quantity.unit.dimension), figures::describe(rule.dimension)));
      return std::nullopt;
    }
    return quantity;
  } catch (const figures::UnitError& error) {
    report_at(node, fmt::format("\"{}\": {}", key, error.what()));
    return std::nullopt;
  }
}

std::optional<figures::Quantity> TableReader::read_quantity(const toml::node& node, std::string_view key,
                                                            const QuantityRule& rule) {
  auto quantity = parse_node(node, key, rule);
  if (!quantity) return std::nullopt;
  if (rule.is_difference) {
    quantity->value_si -= quantity->unit.offset;
    quantity->unit.offset = 0.0;
  }
  const double value = quantity->value_si;
  if (!(value >= rule.bounds.lower_si && value <= rule.bounds.upper_si)) {
    const auto& unit = quantity->unit;
    report_at(node, fmt::format("\"{}\" is {}, expected {} .. {}", key, value_text(node),
                                figures::format_quantity(rule.bounds.lower_si, unit),
                                figures::format_quantity(rule.bounds.upper_si, unit)));
    return std::nullopt;
  }
  return quantity;
}

SourcedQuantity TableReader::required_quantity(std::string_view key, const QuantityRule& rule) {
  if (ask_required(key, expected_quantity(rule)) != nullptr) {
    if (auto found = optional_quantity(key, rule)) return *found;
  }
  return {0.0, figures::coherent_unit(rule.dimension), source_of(key)};
}

std::optional<SourcedQuantity> TableReader::optional_quantity(std::string_view key,
                                                              const QuantityRule& rule) {
  const auto* node = ask(key);
  if (node == nullptr) return std::nullopt;
  const auto quantity = read_quantity(*node, key, rule);
  if (!quantity) return std::nullopt;
  return SourcedQuantity{quantity->value_si, quantity->unit, source_at(*node)};
}

std::vector<SourcedQuantity> TableReader::read_quantities(const toml::node* node, std::string_view key,
                                                          const QuantityRule& rule) {
  std::vector<SourcedQuantity> result;
  const auto* array = as_array(node, key, "quantities");
  if (array == nullptr) return result;
  for (std::size_t i = 0; i < array->size(); ++i) {
    const auto& element = (*array)[i];
    const auto quantity = read_quantity(element, fmt::format("{}[{}]", key, i), rule);
    if (quantity) result.push_back({quantity->value_si, quantity->unit, source_at(element)});
  }
  return result;
}

std::vector<SourcedQuantity> TableReader::required_quantities(std::string_view key,
                                                              const QuantityRule& rule) {
  return read_quantities(ask_required(key, "an array of quantities"), key, rule);
}

std::vector<SourcedQuantity> TableReader::optional_quantities(std::string_view key,
                                                              const QuantityRule& rule) {
  return read_quantities(ask(key), key, rule);
}

std::optional<SourcedRange> TableReader::read_range_table(const toml::table& table, std::string_view key,
                                                          const QuantityRule& rule) {
  const std::vector<std::string> known(std::begin(range_keys), std::end(range_keys));
  bool is_complete = true;
  for (auto&& [part, value] : table) {
    if (std::find(known.begin(), known.end(), part.str()) == known.end()) {
      state_->report(part.source().begin, unknown_name_message("key", part.str(), known));
      is_complete = false;
    }
  }
  double values[3] = {0.0, 0.0, 0.0};
  figures::Unit unit;
  for (std::size_t i = 0; i < 3; ++i) {
    const auto* node = table.get(range_keys[i]);
    const auto name = fmt::format("{}.{}", key, range_keys[i]);
    if (node == nullptr)
      report_at(table, fmt::format("missing key \"{}\", expected {}", name, expected_quantity(rule)));
    const auto quantity = node == nullptr ? std::nullopt : read_quantity(*node, name, rule);
    if (!quantity) {
      is_complete = false;
      continue;
    }
    values[i] = quantity->value_si;
    if (i == 1) unit = quantity->unit;
  }
  auto source = source_at(table);
  if (const auto* own = table.get("source")) {
    const auto text = read_string(*own, fmt::format("{}.source", key), Pattern::any);
    if (text) source.text = *text;
    is_complete = is_complete && text.has_value();
  }
  if (!is_complete) return std::nullopt;
  if (values[0] > values[1] || values[1] > values[2]) {
    report_at(table, fmt::format("\"{}\" is {} .. {} .. {}, expected low <= typical <= high", key,
                                 figures::format_quantity(values[0], unit),
                                 figures::format_quantity(values[1], unit),
                                 figures::format_quantity(values[2], unit)));
    return std::nullopt;
  }
  return SourcedRange{{values[0], values[1], values[2]}, unit, std::move(source)};
}

std::optional<SourcedRange> TableReader::read_range(const toml::node& node, std::string_view key,
                                                    const QuantityRule& rule) {
  if (const auto* table = node.as_table()) return read_range_table(*table, key, rule);
  const auto quantity = read_quantity(node, key, rule);
  if (!quantity) return std::nullopt;
  return SourcedRange{figures::exactly(quantity->value_si), quantity->unit, source_at(node)};
}

SourcedRange TableReader::required_range(std::string_view key, const QuantityRule& rule) {
  const auto* node = ask_required(key, expected_range(rule));
  if (node == nullptr) return harmless(rule, source_of(key));
  return read_range(*node, key, rule).value_or(harmless(rule, source_of(key)));
}

std::optional<SourcedRange> TableReader::optional_range(std::string_view key, const QuantityRule& rule) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_range(*node, key, rule);
}

}  // namespace portweigh::reading

// Keys, plain values and sub-tables; physical values are in range_reader.cpp.
#include "reading/table_reader.hpp"

#include <toml++/toml.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures/units/unit_table.hpp"
#include "reading/document_state.hpp"
#include "reading/node_text.hpp"
#include "reading/suggest.hpp"

namespace portweigh::reading {
namespace {

bool is_identifier(std::string_view text) {
  if (text.empty() || text.front() < 'a' || text.front() > 'z' || text.back() == '-') return false;
  char before = 'a';
  for (const char c : text) {
    const bool is_allowed = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
    if (!is_allowed || (c == '-' && before == '-')) return false;
    before = c;
  }
  return true;
}

std::string_view expected_of(Pattern pattern) {
  switch (pattern) {
    case Pattern::any:
      return "a text that is not empty";
    case Pattern::identifier:
      return "lower-case words joined by hyphens, such as \"port-controller\"";
    case Pattern::currency:
      return "a currency code such as \"USD\"";
  }
  return "";
}

bool fits(std::string_view text, Pattern pattern) {
  switch (pattern) {
    case Pattern::any:
      return text.find_first_not_of(" \t\r\n") != std::string_view::npos;
    case Pattern::identifier:
      return is_identifier(text);
    case Pattern::currency:
      return figures::is_currency_code(text);
  }
  return false;
}

std::string element_name(std::string_view key, std::size_t element) {
  return fmt::format("{}[{}]", key, element);
}

std::string joined_path(const std::string& path, std::string_view key) {
  return path.empty() ? std::string(key) : path + "." + std::string(key);
}

}  // namespace

TableReader::TableReader(DocumentState& state, const toml::table* table, std::string path,
                         std::string inherited_source)
    : state_(&state), table_(table), path_(std::move(path)), inherited_source_(std::move(inherited_source)) {
  if (table_ == nullptr) return;
  state_->asked[table_];
  if (const auto* own = table_->get_as<std::string>("source")) {
    inherited_source_ = own->get();
    accept("source");
  }
}

bool TableReader::has(std::string_view key) const {
  return table_ != nullptr && table_->contains(key);
}

std::vector<std::string> TableReader::keys() const {
  std::vector<std::string> result;
  if (table_ == nullptr) return result;
  for (auto&& [key, value] : *table_) result.emplace_back(key.str());
  return result;
}

figures::Source TableReader::source_at(const toml::node& node) const {
  const auto& begin = node.source().begin;
  return {inherited_source_, state_->name, static_cast<int>(std::max<std::size_t>(begin.line, 1)),
          static_cast<int>(std::max<std::size_t>(begin.column, 1))};
}

figures::Source TableReader::source() const {
  if (table_ == nullptr) return {inherited_source_, state_->name, 1, 1};
  return source_at(*table_);
}

figures::Source TableReader::source_of(std::string_view key) const {
  const auto* node = table_ == nullptr ? nullptr : table_->get(key);
  return node == nullptr ? source() : source_at(*node);
}

void TableReader::report_at(const toml::node& node, std::string message) {
  state_->report(node.source().begin, std::move(message));
}

void TableReader::report(std::string message) {
  if (table_ != nullptr) report_at(*table_, std::move(message));
}

void TableReader::report(std::string_view key, std::string message) {
  const auto* node = table_ == nullptr ? nullptr : table_->get(key);
  if (node == nullptr) return report(std::move(message));
  report_at(*node, std::move(message));
}

void TableReader::report(std::string_view key, std::size_t element, std::string message) {
  const auto* array = table_ == nullptr ? nullptr : table_->get_as<toml::array>(key);
  const auto* node = array == nullptr ? nullptr : array->get(element);
  if (node == nullptr) return report(key, std::move(message));
  report_at(*node, std::move(message));
}

void TableReader::accept(std::string_view key) {
  if (table_ == nullptr) return;
  auto& keys = state_->asked[table_].keys;
  if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.emplace_back(key);
}

void TableReader::finish() {
  if (table_ != nullptr) state_->finish(*table_);
}

const toml::node* TableReader::ask(std::string_view key) {
  accept(key);
  return table_ == nullptr ? nullptr : table_->get(key);
}

const toml::node* TableReader::ask_required(std::string_view key, std::string_view expected) {
  const auto* node = ask(key);
  if (node == nullptr && table_ != nullptr) {
    const auto where = path_.empty() ? std::string() : fmt::format(" in [{}]", path_);
    report(fmt::format("missing key \"{}\"{}, expected {}", key, where, expected));
  }
  return node;
}

std::optional<std::string> TableReader::read_string(const toml::node& node, std::string_view key,
                                                    Pattern pattern) {
  const auto* text = node.as_string();
  if (text == nullptr) {
    report_at(node, fmt::format("\"{}\" is {}, expected {}", key, kind_of(node), expected_of(pattern)));
    return std::nullopt;
  }
  if (!fits(text->get(), pattern)) {
    report_at(node, fmt::format("\"{}\" is {}, expected {}", key, value_text(node), expected_of(pattern)));
    return std::nullopt;
  }
  return text->get();
}

std::string TableReader::required_string(std::string_view key, Pattern pattern) {
  const auto* node = ask_required(key, expected_of(pattern));
  return node == nullptr ? std::string() : read_string(*node, key, pattern).value_or("");
}

std::optional<std::string> TableReader::optional_string(std::string_view key, Pattern pattern) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_string(*node, key, pattern);
}

std::optional<std::int64_t> TableReader::read_integer(const toml::node& node, std::string_view key,
                                                      std::int64_t lower, std::int64_t upper) {
  const auto* integer = node.as_integer();
  if (integer == nullptr || integer->get() < lower || integer->get() > upper) {
    const auto given = integer == nullptr ? kind_of(node) : value_text(node);
    report_at(node, fmt::format("\"{}\" is {}, expected an integer from {} to {}", key, given, lower, upper));
    return std::nullopt;
  }
  return integer->get();
}

std::int64_t TableReader::required_integer(std::string_view key, std::int64_t lower, std::int64_t upper) {
  const auto* node = ask_required(key, fmt::format("an integer from {} to {}", lower, upper));
  return node == nullptr ? lower : read_integer(*node, key, lower, upper).value_or(lower);
}

std::optional<std::int64_t> TableReader::optional_integer(std::string_view key, std::int64_t lower,
                                                          std::int64_t upper) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_integer(*node, key, lower, upper);
}

std::optional<double> TableReader::read_number(const toml::node& node, std::string_view key, double lower,
                                               double upper) {
  const auto value = node.is_number() ? node.value<double>() : std::nullopt;
  if (!value || !(*value >= lower && *value <= upper)) {
    const auto given = value ? value_text(node) : kind_of(node);
    report_at(node, fmt::format("\"{}\" is {}, expected a number from {} to {}", key, given, lower, upper));
    return std::nullopt;
  }
  return value;
}

double TableReader::required_number(std::string_view key, double lower, double upper) {
  const auto* node = ask_required(key, fmt::format("a number from {} to {}", lower, upper));
  return node == nullptr ? lower : read_number(*node, key, lower, upper).value_or(lower);
}

std::optional<double> TableReader::optional_number(std::string_view key, double lower, double upper) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_number(*node, key, lower, upper);
}

std::optional<bool> TableReader::read_boolean(const toml::node& node, std::string_view key) {
  const auto* boolean = node.as_boolean();
  if (boolean == nullptr) {
    report_at(node, fmt::format("\"{}\" is {}, expected true or false", key, kind_of(node)));
    return std::nullopt;
  }
  return boolean->get();
}

bool TableReader::required_boolean(std::string_view key) {
  const auto* node = ask_required(key, "true or false");
  return node != nullptr && read_boolean(*node, key).value_or(false);
}

std::optional<bool> TableReader::optional_boolean(std::string_view key) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_boolean(*node, key);
}

const toml::array* TableReader::as_array(const toml::node* node, std::string_view key, std::string_view of) {
  if (node == nullptr) return nullptr;
  if (!node->is_array()) {
    report_at(*node, fmt::format("\"{}\" is {}, expected an array of {}", key, kind_of(*node), of));
  }
  return node->as_array();
}

std::vector<std::string> TableReader::read_strings(const toml::node* node, std::string_view key,
                                                   Pattern pattern) {
  std::vector<std::string> result;
  const auto* array = as_array(node, key, "strings");
  if (array == nullptr) return result;
  for (std::size_t i = 0; i < array->size(); ++i) {
    result.push_back(read_string((*array)[i], element_name(key, i), pattern).value_or(""));
  }
  return result;
}

std::vector<std::string> TableReader::required_strings(std::string_view key, Pattern pattern) {
  return read_strings(ask_required(key, "an array of strings"), key, pattern);
}

std::vector<std::string> TableReader::optional_strings(std::string_view key, Pattern pattern) {
  return read_strings(ask(key), key, pattern);
}

std::optional<TableReader> TableReader::read_table(const toml::node& node, std::string_view key,
                                                   const std::string& path, std::string_view expected) {
  const auto* table = node.as_table();
  if (table == nullptr) {
    report_at(node, fmt::format("\"{}\" is {}, expected {}", key, kind_of(node), expected));
    return std::nullopt;
  }
  return TableReader(*state_, table, path, inherited_source_);
}

TableReader TableReader::required_table(std::string_view key) {
  const auto path = joined_path(path_, key);
  const auto* node = ask_required(key, "a table");
  auto found = node == nullptr ? std::nullopt : read_table(*node, key, path);
  return found ? *found : TableReader(*state_, nullptr, path, inherited_source_);
}

std::optional<TableReader> TableReader::optional_table(std::string_view key) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_table(*node, key, joined_path(path_, key));
}

std::vector<TableReader> TableReader::read_tables(const toml::node* node, std::string_view key,
                                                  std::string_view expected) {
  std::vector<TableReader> result;
  const auto* array = as_array(node, key, "tables");
  if (array == nullptr) return result;
  for (std::size_t i = 0; i < array->size(); ++i) {
    const auto name = element_name(key, i);
    if (auto table = read_table((*array)[i], name, joined_path(path_, name), expected))
      result.push_back(std::move(*table));
  }
  return result;
}

std::vector<TableReader> TableReader::required_tables(std::string_view key) {
  const auto* node = ask_required(key, "an array of tables");
  if (node != nullptr && node->is_array() && node->as_array()->empty()) {
    report_at(*node, fmt::format("\"{}\" is empty, expected at least one table", key));
  }
  return read_tables(node, key);
}

std::vector<TableReader> TableReader::optional_tables(std::string_view key, std::string_view expected) {
  return read_tables(ask(key), key, expected);
}

std::optional<std::size_t> TableReader::read_choice(const toml::node& node, std::string_view key,
                                                    std::span<const std::string> choices) {
  const auto* text = node.as_string();
  if (text == nullptr) {
    report_at(node,
              fmt::format("\"{}\" is {}, expected one of {}", key, kind_of(node), fmt::join(choices, ", ")));
    return std::nullopt;
  }
  const auto found = std::find(choices.begin(), choices.end(), text->get());
  if (found == choices.end()) {
    report_at(node, unknown_name_message(key, text->get(), choices));
    return std::nullopt;
  }
  return static_cast<std::size_t>(found - choices.begin());
}

std::size_t TableReader::required_choice(std::string_view key, std::span<const std::string> choices) {
  const auto* node = ask_required(key, fmt::format("one of {}", fmt::join(choices, ", ")));
  return node == nullptr ? 0 : read_choice(*node, key, choices).value_or(0);
}

std::optional<std::size_t> TableReader::optional_choice(std::string_view key,
                                                        std::span<const std::string> choices) {
  const auto* node = ask(key);
  return node == nullptr ? std::nullopt : read_choice(*node, key, choices);
}

}  // namespace portweigh::reading

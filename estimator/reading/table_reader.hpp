// Reads one TOML table key by key, checks each value, and remembers which keys are known.
//
// A mistake never throws: it becomes a diagnostic of the document and a harmless default is returned, so that
// all mistakes of a file are told in one run; Document::throw_if_errors() throws at the end. Keys nobody
// asked for are reported by finish() (or at the latest by throw_if_errors()) with the nearest valid name.
//
// Physical values are strings with a unit ("7 mW"); plain numbers are taken only where the dimension is 1. A
// range is
//     leakage = { low = "1 mW", typical = "2 mW", high = "4 mW", source = "data sheet" }
// or a single value (low = typical = high). Each value carries its place and source
// text; a range without its own `source` inherits that of the nearest table above with a `source` key. NaN,
// infinities, values outside the rule's bounds, wrong dimensions and unordered ranges are refused. Tested
// word for word by tests/reading/table_reader_test.cpp and tests/reading/range_reader_test.cpp.
#pragma once

#include <toml++/impl/forward_declarations.h>

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "reading/document.hpp"
#include "reading/quantity_rule.hpp"

namespace portweigh::reading {

// What a string must look like.
enum class Pattern {
  any,         // not empty
  identifier,  // lower-case words joined by hyphens: "pl-2k"
  currency     // a currency code: "USD"
};

class TableReader {
 public:
  [[nodiscard]] bool has(std::string_view key) const;              // doesn't count as asking for the key
  [[nodiscard]] std::vector<std::string> keys() const;             // as written in the file, alphabetical
  [[nodiscard]] const std::string& path() const { return path_; }  // "parts.pl-2k", "" for the root
  [[nodiscard]] figures::Source source() const;  // of this table, with inherited source text
  [[nodiscard]] figures::Source source_of(std::string_view key) const;

  std::string required_string(std::string_view key, Pattern pattern = Pattern::any);
  std::optional<std::string> optional_string(std::string_view key, Pattern pattern = Pattern::any);
  std::int64_t required_integer(std::string_view key, std::int64_t lower, std::int64_t upper);
  std::optional<std::int64_t> optional_integer(std::string_view key, std::int64_t lower, std::int64_t upper);
  double required_number(std::string_view key, double lower, double upper);
  std::optional<double> optional_number(std::string_view key, double lower, double upper);
  bool required_boolean(std::string_view key);
  std::optional<bool> optional_boolean(std::string_view key);

  SourcedQuantity required_quantity(std::string_view key, const QuantityRule& rule);
  std::optional<SourcedQuantity> optional_quantity(std::string_view key, const QuantityRule& rule);
  SourcedRange required_range(std::string_view key, const QuantityRule& rule);
  std::optional<SourcedRange> optional_range(std::string_view key, const QuantityRule& rule);

  std::vector<std::string> required_strings(std::string_view key, Pattern pattern = Pattern::any);
  std::vector<std::string> optional_strings(std::string_view key, Pattern pattern = Pattern::any);
  std::vector<SourcedQuantity> required_quantities(std::string_view key, const QuantityRule& rule);
  std::vector<SourcedQuantity> optional_quantities(std::string_view key, const QuantityRule& rule);

  // Sub-tables; `required_table` of a missing key gives a reader that answers every question quietly with
  // defaults.
  TableReader required_table(std::string_view key);
  std::optional<TableReader> optional_table(std::string_view key);
  std::vector<TableReader> required_tables(std::string_view key);  // array of tables, at least one
  // `expected` is what a mistake asks for in each element.
  std::vector<TableReader> optional_tables(std::string_view key, std::string_view expected = "a table");

  // A name out of a closed list, with the nearest name suggested; index of the choice (0 after a mistake).
  std::size_t required_choice(std::string_view key, std::span<const std::string> choices);
  std::optional<std::size_t> optional_choice(std::string_view key, std::span<const std::string> choices);
  template <class Value>
  Value required_choice(std::string_view key, const std::vector<std::pair<std::string, Value>>& choices) {
    return choices[required_choice(key, names_of(choices))].second;
  }
  template <class Value>
  std::optional<Value> optional_choice(std::string_view key,
                                       const std::vector<std::pair<std::string, Value>>& choices) {
    const auto index = optional_choice(key, names_of(choices));
    return index ? std::optional<Value>(choices[*index].second) : std::nullopt;
  }

  // A mistake the caller found: at this table, at the value of a key, or at an element of an array.
  void report(std::string message);
  void report(std::string_view key, std::string message);
  void report(std::string_view key, std::size_t element, std::string message);

  // Says that a key is valid though it was not read here.
  void accept(std::string_view key);
  // Reports every key that nobody asked for.
  void finish();

 private:
  friend class Document;

  TableReader(DocumentState& state, const toml::table* table, std::string path, std::string inherited_source);

  template <class Value>
  static std::vector<std::string> names_of(const std::vector<std::pair<std::string, Value>>& choices) {
    std::vector<std::string> names;
    names.reserve(choices.size());
    for (const auto& choice : choices) names.push_back(choice.first);
    return names;
  }

  const toml::node* ask(std::string_view key);
  const toml::node* ask_required(std::string_view key, std::string_view expected);
  void report_at(const toml::node& node, std::string message);
  [[nodiscard]] figures::Source source_at(const toml::node& node) const;

  // Each reports what is wrong and then returns none.
  std::optional<std::string> read_string(const toml::node& node, std::string_view key, Pattern pattern);
  std::optional<std::int64_t> read_integer(const toml::node& node, std::string_view key, std::int64_t lower,
                                           std::int64_t upper);
  std::optional<double> read_number(const toml::node& node, std::string_view key, double lower, double upper);
  std::optional<bool> read_boolean(const toml::node& node, std::string_view key);
  std::optional<std::size_t> read_choice(const toml::node& node, std::string_view key,
                                         std::span<const std::string> choices);
  std::optional<TableReader> read_table(const toml::node& node, std::string_view key, const std::string& path,
                                        std::string_view expected = "a table");
  std::optional<figures::Quantity> parse_node(const toml::node& node, std::string_view key,
                                              const QuantityRule& rule);
  std::optional<figures::Quantity> read_quantity(const toml::node& node, std::string_view key,
                                                 const QuantityRule& rule);
  std::optional<SourcedRange> read_range(const toml::node& node, std::string_view key,
                                         const QuantityRule& rule);
  std::optional<SourcedRange> read_range_table(const toml::table& table, std::string_view key,
                                               const QuantityRule& rule);

  // `node` may be null: no elements.
  const toml::array* as_array(const toml::node* node, std::string_view key, std::string_view of);
  std::vector<std::string> read_strings(const toml::node* node, std::string_view key, Pattern pattern);
  std::vector<TableReader> read_tables(const toml::node* node, std::string_view key,
                                       std::string_view expected = "a table");
  std::vector<SourcedQuantity> read_quantities(const toml::node* node, std::string_view key,
                                               const QuantityRule& rule);

  DocumentState* state_;
  const toml::table* table_;  // null: stands in for a missing table
  std::string path_;
  std::string inherited_source_;
};

}  // namespace portweigh::reading

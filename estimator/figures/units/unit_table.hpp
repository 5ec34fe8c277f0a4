// The units that portweigh knows.
//
// A symbol is one unit with or without an SI prefix: "mW", "kHz", "degC", "KiB", "USD". Products, quotients
// and powers of symbols are the business of unit.cpp. Tested against UDUNITS by
// tests/figures/units/unit_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "figures/units/dimension.hpp"

namespace portweigh::figures {

struct Symbol {
  Dimension dimension;
  double factor = 1.0;
  double offset = 0.0;
  std::string base_symbol;  // the symbol shown with a prefix of its own; empty if it is shown as it is
  std::string currency;
};

[[nodiscard]] std::optional<Symbol> find_symbol(std::string_view text);

// Symbols that differ from `text` in upper and lower case only: "KHZ" gives "kHz". For suggestions.
[[nodiscard]] std::vector<std::string> symbols_in_other_case(std::string_view text);

// All symbols of the table without prefixes, except currencies; for tests.
[[nodiscard]] std::vector<std::string> plain_symbols();

// True for the alphabetic codes of ISO 4217 (as listed by the iso-codes project; metals and test codes left
// out), so that a slip such as "MHZ" is not taken for money.
[[nodiscard]] bool is_currency_code(std::string_view text);

struct Prefix {
  std::string_view text;
  double factor;
};
// Engineering prefixes in rising order, f to T, with "" for 1.
[[nodiscard]] const std::vector<Prefix>& engineering_prefixes();

}  // namespace portweigh::figures

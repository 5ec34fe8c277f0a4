#include "figures/units/unit.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include "figures/units/unit_table.hpp"

namespace portweigh::figures {
namespace {

constexpr std::size_t longest_unit = 64;

bool is_space(char c) {
  return c == ' ' || c == '\t';
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

[[noreturn]] void refuse_unit(std::string_view whole, std::string_view part) {
  auto message = fmt::format("unknown unit \"{}\"", part);
  if (part != whole) message += fmt::format(" in \"{}\"", whole);
  message += ", expected a unit such as mW, uA/MHz, degC, % or USD/h";
  const auto nearest = symbols_in_other_case(part);
  if (!nearest.empty()) message += fmt::format("; nearest: \"{}\"", fmt::join(nearest, "\" or \""));
  throw UnitError(message);
}

struct Term {
  std::string_view symbol;
  int exponent = 1;  // negative in a denominator
};

// "mm2", "s-1", "m^-2", "mm²" -> symbol and exponent.
Term split_exponent(std::string_view text) {
  if (text.ends_with("\u00B2")) return {text.substr(0, text.size() - 2), 2};
  if (text.ends_with("\u00B3")) return {text.substr(0, text.size() - 2), 3};
  std::size_t end = text.size();
  while (end > 0 && text[end - 1] >= '0' && text[end - 1] <= '9') --end;
  if (end == text.size() || end == 0) return {text, 1};
  const std::size_t digits = end;
  const bool is_negative = text[end - 1] == '-';
  if (is_negative) --end;
  if (end > 0 && text[end - 1] == '^') --end;
  int exponent = 0;
  const auto parsed = std::from_chars(text.data() + digits, text.data() + text.size(), exponent);
  if (end == 0 || parsed.ec != std::errc() || exponent > 9) return {text, 1};
  return {text.substr(0, end), is_negative ? -exponent : exponent};
}

// What stands between terms: spaces, '*', '.', '·' (product), '/' (quotient of what follows), parentheses.
constexpr std::string_view separators[] = {" ", "\t", "*", ".", "\u00B7", "/", "(", ")"};

std::string_view separator_at(std::string_view text) {
  for (const std::string_view separator : separators) {
    if (text.starts_with(separator)) return separator;
  }
  return {};
}

// None if malformed; parentheses don't nest.
std::optional<std::vector<Term>> split_terms(std::string_view text) {
  std::vector<Term> terms;
  int sign = 1;
  int sign_of_group = 0;  // 0: outside of parentheses
  bool is_operand_due = true;
  while (!text.empty()) {
    const std::string_view separator = separator_at(text);
    if (separator.empty()) {
      std::size_t end = 1;
      while (end < text.size() && separator_at(text.substr(end)).empty()) ++end;
      auto term = split_exponent(text.substr(0, end));
      term.exponent *= sign * (sign_of_group == 0 ? 1 : sign_of_group);
      terms.push_back(term);
      sign = 1;
      is_operand_due = false;
      text.remove_prefix(end);
      continue;
    }
    text.remove_prefix(separator.size());
    if (is_space(separator.front())) continue;
    if (separator == "(" ? sign_of_group != 0 : is_operand_due) return std::nullopt;
    if (separator == "(") {
      sign_of_group = sign;
      sign = 1;
    } else if (separator == ")") {
      if (sign_of_group == 0) return std::nullopt;
      sign_of_group = 0;
    } else {
      sign = separator == "/" ? -1 : 1;
    }
    is_operand_due = separator != ")";
  }
  if (is_operand_due || sign_of_group != 0) return std::nullopt;
  return terms;
}

Unit combine_terms(const std::vector<Term>& terms, std::string_view text) {
  Unit unit;
  unit.text = std::string(text);
  for (const auto& term : terms) {
    const auto symbol = find_symbol(term.symbol);
    if (!symbol) refuse_unit(text, term.symbol);
    if (!symbol->currency.empty() && !unit.currency.empty() && unit.currency != symbol->currency) {
      throw UnitError(fmt::format("unit \"{}\" mixes the currencies {} and {}, expected one currency", text,
                                  unit.currency, symbol->currency));
    }
    if (!symbol->currency.empty()) unit.currency = symbol->currency;
    unit.dimension = multiply(unit.dimension, power_of(symbol->dimension, term.exponent));
    // Dividing keeps "1/MHz" correctly rounded.
    const double factor = std::pow(symbol->factor, std::abs(term.exponent));
    unit.factor = term.exponent < 0 ? unit.factor / factor : unit.factor * factor;
    if (terms.size() == 1 && term.exponent == 1) {
      unit.offset = symbol->offset;
      unit.base_symbol = symbol->base_symbol;
    }
  }
  return unit;
}

}  // namespace

Unit parse_unit(std::string_view written) {
  const auto text = trim(written);
  if (text.empty()) throw UnitError("empty unit, expected a unit such as mW, degC, % or USD");
  if (text.size() > longest_unit) throw UnitError("unit of more than 64 characters");
  const auto terms = split_terms(text);
  if (!terms || terms->size() > 8) refuse_unit(text, text);
  return combine_terms(*terms, text);
}

Quantity parse_quantity(std::string_view written) {
  const auto text = trim(written);
  const auto refuse = [written](std::string_view why) {
    throw UnitError(fmt::format("\"{}\" {}", written, why));
  };
  constexpr std::string_view expected =
      "is not a quantity, expected a finite number and a unit such as \"7 mW\"";
  auto digits = text.starts_with('+') ? text.substr(1) : text;
  const auto unsigned_digits = digits.starts_with('-') ? digits.substr(1) : digits;
  const bool is_number =
      !unsigned_digits.empty() &&
      ((unsigned_digits[0] >= '0' && unsigned_digits[0] <= '9') || unsigned_digits[0] == '.');
  double value = 0.0;
  const auto parsed = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (!is_number || parsed.ec == std::errc::invalid_argument ||
      (text.starts_with('+') && digits.starts_with('-'))) {
    refuse(expected);
  }
  if (parsed.ec == std::errc::result_out_of_range || !std::isfinite(value)) {
    refuse("is out of range, expected a finite number");
  }
  const auto rest = trim(digits.substr(static_cast<std::size_t>(parsed.ptr - digits.data())));
  if (!rest.empty() && ((rest[0] >= '0' && rest[0] <= '9') || rest[0] == '-' || rest[0] == '+') &&
      rest != "1" && !rest.starts_with("1/")) {
    refuse(expected);
  }
  Quantity quantity{value, rest.empty() ? Unit{} : parse_unit(rest)};
  quantity.value_si = to_si(value, quantity.unit);
  if (!std::isfinite(quantity.value_si)) refuse("is out of range, expected a finite number");
  return quantity;
}

Unit coherent_unit(const Dimension& dimension, std::string_view currency) {
  auto text = to_string(dimension);
  const auto symbol = find_symbol(dimension == dimensions::mass ? "g" : text);
  constexpr std::string_view money = "money";
  const auto at = text.find(money);
  const bool has_currency = at != std::string::npos && !currency.empty();
  if (has_currency)
    text = fmt::format("{}{}{}", text.substr(0, at), currency, text.substr(at + money.size()));
  return {dimension,
          1.0,
          0.0,
          std::move(text),
          has_currency ? std::string(currency) : std::string(),
          symbol ? symbol->base_symbol : std::string()};
}

double to_si(double value, const Unit& unit) {
  return value * unit.factor + unit.offset;
}

double from_si(double value_si, const Unit& unit) {
  return (value_si - unit.offset) / unit.factor;
}

}  // namespace portweigh::figures

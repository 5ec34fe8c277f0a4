#include "figures/units/format_quantity.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "figures/units/unit_table.hpp"

namespace portweigh::figures {
namespace {

struct TimeStep {
  std::string_view unit;
  double from_s;  // used from this length on
};
constexpr TimeStep time_steps[] = {
    {"year", 2 * 365.242198781 * 86400.0}, {"d", 2 * 86400.0}, {"h", 2 * 3600.0}, {"min", 120.0}};

int digits_for(const Unit& unit, int digits) {
  return unit.dimension.money != 0 ? digits + 1 : digits;
}

// Ties go away from zero, as in the page's script; a tie is a value whose further digits are a five and zeros.
std::string with_decimals(double value, int decimals) {
  constexpr int enough = 30;
  const std::string exact = fmt::format("{:.{}f}", value, decimals + enough);
  const std::string_view rest = std::string_view(exact).substr(exact.size() - enough);
  const bool is_tie = rest.front() == '5' && rest.find_first_not_of('0', 1) == std::string_view::npos;
  return fmt::format("{:.{}f}", is_tie ? std::nextafter(value, std::copysign(INFINITY, value)) : value,
                     decimals);
}

// What a reader would see, so that 999.96 m counts as 1000.
double rounded(double value, int digits) {
  if (value == 0.0 || !std::isfinite(value)) return value;
  const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
  const int decimals = std::max(0, digits - 1 - exponent);
  return std::stod(with_decimals(value, decimals));
}

Unit with_prefix(double value_si, const Unit& unit, int digits) {
  const auto& prefixes = engineering_prefixes();
  const double base_factor = find_symbol(unit.base_symbol)->factor;
  const auto make = [&](const Prefix& prefix) {
    Unit result = unit;
    result.factor = base_factor * prefix.factor;
    result.text = std::string(prefix.text) + unit.base_symbol;
    return result;
  };
  if (value_si == 0.0 || !std::isfinite(value_si)) return make({"", 1.0});
  // No parts of a bit.
  const std::size_t first = is_dimensionless(unit.dimension) ? 5 : 0;
  for (std::size_t i = first; i + 1 < prefixes.size(); ++i) {
    auto candidate = make(prefixes[i]);
    if (std::abs(rounded(from_si(value_si, candidate), digits)) < 1000.0) return candidate;
  }
  return make(prefixes.back());
}

}  // namespace

Unit display_unit(double value_si, const Unit& unit, int digits) {
  // Hours of work add up to person-months, not to days of 24 hours.
  if (unit.text == "h") return unit;
  if (unit.dimension == dimensions::time) {
    for (const auto& step : time_steps) {
      if (std::abs(value_si) >= step.from_s) return parse_unit(step.unit);
    }
    return with_prefix(value_si, parse_unit("s"), digits);
  }
  if (unit.base_symbol.empty()) return unit;
  return with_prefix(value_si, unit, digits);
}

std::string format_number(double value, int digits) {
  if (std::isnan(value)) return "undefined";
  if (std::isinf(value)) return value > 0 ? "infinite" : "-infinite";
  if (value == 0.0) return "0";
  const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
  if (exponent >= 15 || exponent < -6) return fmt::format("{:.{}g}", value, digits);
  std::string text = with_decimals(value, std::max(0, digits - 1 - exponent));
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string format_in_unit(double value_si, const Unit& unit, int digits) {
  return format_number(from_si(value_si, unit), digits_for(unit, digits));
}

std::string format_quantity(double value_si, const Unit& unit, int digits) {
  const auto shown = display_unit(value_si, unit, digits);
  auto text = format_in_unit(value_si, shown, digits);
  if (shown.text != "1") text += " " + shown.text;
  return text;
}

std::string format_quantity(double value_si, const Dimension& dimension, int digits) {
  return format_quantity(value_si, coherent_unit(dimension), digits);
}

}  // namespace portweigh::figures

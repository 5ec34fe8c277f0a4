#include "report/number_words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "figures/units/format_quantity.hpp"

namespace portweigh::report {
namespace {

bool is_share(const figures::Unit& unit, std::string_view label) {
  return unit.text == "1" && (label.starts_with("share ") || label.starts_with("probability "));
}

}  // namespace

std::string share_words(double share, unsigned samples) {
  constexpr double steps = 1000;  // tenths of a percent
  const double open = samples > 0 ? std::min(3.0 / samples, 1.0) : 1.0;
  if (share >= 1) return fmt::format("at least {:.1f} %", 100 * std::floor((1 - open) * steps) / steps);
  if (share <= 0) return fmt::format("at most {:.1f} %", 100 * std::ceil(open * steps) / steps);
  const double percent = 100 * share;
  // Nearly all is not all.
  if (percent >= 99.5) return fmt::format("{:.2f} %", std::floor(percent * 100) / 100);
  if (percent < 0.5) return fmt::format("{:.2f} %", std::ceil(percent * 100) / 100);
  return fmt::format("{:.0f} %", percent);
}

std::string share_words(double share, unsigned samples, double standard_error) {
  if (share >= 1 || share <= 0) return share_words(share, samples);
  return fmt::format("{} (± {:.{}f} %)", share_words(share, samples), 100 * standard_error,
                     standard_error < 0.001 ? 2 : 1);
}

std::string amount_words(double value_si, const figures::Unit& unit, std::string_view label) {
  if (unit.dimension == figures::dimensions::money) {
    const double shown = value_si / unit.factor;
    constexpr double small = 0.1;
    return std::abs(shown) < small && shown != 0 ? figures::format_number(shown, 2) + " " + unit.text
                                                 : fixed(shown, 2) + " " + unit.text;
  }
  if (is_share(unit, label)) return figures::format_number(100 * value_si, 3) + " %";
  return figures::format_quantity(value_si, unit);
}

std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  return is_zero && text.starts_with('-') ? text.substr(1) : text;
}

std::string signed_fixed(double value, int decimals) {
  const std::string text = fixed(value, decimals);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  return is_zero || text.starts_with('-') ? text : "+" + text;
}

std::string counted(std::size_t count, std::string_view noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

}  // namespace portweigh::report

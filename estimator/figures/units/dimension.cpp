#include "figures/units/dimension.hpp"

#include <fmt/core.h>

#include <stdexcept>
#include <string_view>

namespace portweigh::figures {
namespace {

struct KnownDimension {
  Dimension dimension;
  std::string_view unit;
  std::string_view name;
};

// The first entry of a dimension wins: Hz is a frequency, W/Hz prints as J.
constexpr KnownDimension known_dimensions[] = {
    {dimensions::dimensionless, "1", "a plain number"},
    {dimensions::length, "m", "length"},
    {dimensions::area, "m2", "area"},
    {dimensions::volume, "m3", "volume"},
    {dimensions::mass, "kg", "mass"},
    {dimensions::time, "s", "time"},
    {dimensions::frequency, "Hz", "frequency"},
    {dimensions::current, "A", "current"},
    {dimensions::temperature, "K", "temperature"},
    {dimensions::money, "money", "money"},
    {dimensions::charge, "C", "charge"},
    {dimensions::energy, "J", "energy"},
    {dimensions::power, "W", "power"},
    {dimensions::voltage, "V", "voltage"},
    {dimensions::resistance, "Ohm", "resistance"},
    {dimensions::capacitance, "F", "capacitance"},
    {dimensions::inductance, "H", "inductance"},
    {dimensions::thermal_resistance, "K/W", "thermal resistance"},
    {dimensions::money_per_time, "money/s", "money per time"},
    {dimensions::money_per_area, "money/m2", "money per area"},
};

const KnownDimension* find_known(const Dimension& a) {
  for (const auto& known : known_dimensions) {
    if (known.dimension == a) return &known;
  }
  return nullptr;
}

template <class Combine>
Dimension combine(const Dimension& a, const Dimension& b, Combine combine_exponents) {
  const auto left = exponents(a);
  const auto right = exponents(b);
  std::array<int, 6> result{};
  for (std::size_t i = 0; i < result.size(); ++i) result[i] = combine_exponents(left[i], right[i]);
  return from_exponents(result);
}

}  // namespace

std::array<int, 6> exponents(const Dimension& a) {
  return {a.metre, a.kilogram, a.second, a.ampere, a.kelvin, a.money};
}

Dimension from_exponents(const std::array<int, 6>& exponents) {
  std::array<std::int8_t, 6> narrow{};
  for (std::size_t i = 0; i < narrow.size(); ++i) {
    if (exponents[i] < -100 || exponents[i] > 100) {
      throw std::out_of_range(fmt::format("exponent {} of a dimension is outside -100..100", exponents[i]));
    }
    narrow[i] = static_cast<std::int8_t>(exponents[i]);
  }
  return {narrow[0], narrow[1], narrow[2], narrow[3], narrow[4], narrow[5]};
}

Dimension multiply(const Dimension& a, const Dimension& b) {
  return combine(a, b, [](int x, int y) { return x + y; });
}

Dimension divide(const Dimension& a, const Dimension& b) {
  return combine(a, b, [](int x, int y) { return x - y; });
}

Dimension power_of(const Dimension& a, int exponent) {
  if (exponent < -100 || exponent > 100) {
    throw std::out_of_range(fmt::format("exponent {} of a dimension is outside -100..100", exponent));
  }
  return combine(a, a, [exponent](int x, int) { return x * exponent; });
}

bool is_dimensionless(const Dimension& a) {
  return a == Dimension{};
}

std::string to_string(const Dimension& a) {
  if (const auto* known = find_known(a)) return std::string(known->unit);
  // Mass first, as the SI Brochure writes its base-unit column.
  constexpr std::string_view symbols[] = {"m", "kg", "s", "A", "K", "money"};
  constexpr std::size_t order[] = {1, 0, 2, 3, 4, 5};
  const auto all = exponents(a);
  std::string text;
  for (const std::size_t i : order) {
    if (all[i] == 0) continue;
    if (!text.empty()) text += ' ';
    text += symbols[i];
    if (all[i] != 1) text += fmt::format("{}", all[i]);
  }
  return text;
}

std::string describe(const Dimension& a) {
  const auto* known = find_known(a);
  if (known == nullptr) return to_string(a);
  if (a == dimensions::dimensionless || a == dimensions::money) return std::string(known->name);
  return fmt::format("{} ({})", known->name, known->unit);
}

}  // namespace portweigh::figures

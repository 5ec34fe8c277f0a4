// The physical dimension of a figure: integer exponents over metre, kilogram, second, ampere, kelvin and
// money.
//
// Why: adding watts to hertz, or joules to watts, must be refused when a formula is built, not discovered in
// a report. Money is a dimension of its own, so that euros can't be added to seconds, and "USD/h" is a labour
// rate.
//
// Worked example: multiply(power, time) == energy;  to_string(power) == "W";
//                 to_string(power_of(length, 4)) == "m4";  describe(power) == "power (W)".
// Source of the base units: SI Brochure, 9th edition, table 2 (candela and mole are not needed here).
// Tested by tests/figures/units/dimension_test.cpp.
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace portweigh::figures {

struct Dimension {
  std::int8_t metre = 0;
  std::int8_t kilogram = 0;
  std::int8_t second = 0;
  std::int8_t ampere = 0;
  std::int8_t kelvin = 0;
  std::int8_t money = 0;

  friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
};

namespace dimensions {
//                                            m  kg   s  A  K  money
inline constexpr Dimension dimensionless{};
inline constexpr Dimension length{1};
inline constexpr Dimension area{2};
inline constexpr Dimension volume{3};
inline constexpr Dimension mass{0, 1};
inline constexpr Dimension time{0, 0, 1};
inline constexpr Dimension frequency{0, 0, -1};
inline constexpr Dimension current{0, 0, 0, 1};
inline constexpr Dimension temperature{0, 0, 0, 0, 1};
inline constexpr Dimension money{0, 0, 0, 0, 0, 1};
inline constexpr Dimension charge{0, 0, 1, 1};
inline constexpr Dimension energy{2, 1, -2};
inline constexpr Dimension power{2, 1, -3};
inline constexpr Dimension voltage{2, 1, -3, -1};
inline constexpr Dimension resistance{2, 1, -3, -2};
inline constexpr Dimension capacitance{-2, -1, 4, 2};
inline constexpr Dimension inductance{2, 1, -2, -2};
inline constexpr Dimension thermal_resistance{-2, -1, 3, 0, 1};
inline constexpr Dimension current_per_frequency{0, 0, 1,
                                                 1};       // same as charge: "uA/MHz" is a charge per cycle
inline constexpr Dimension power_per_frequency{2, 1, -2};  // same as energy: "uW/MHz" is an energy per cycle
inline constexpr Dimension money_per_time{0, 0, -1, 0, 0, 1};
inline constexpr Dimension money_per_area{-2, 0, 0, 0, 0, 1};
}  // namespace dimensions

[[nodiscard]] Dimension multiply(const Dimension& a, const Dimension& b);
[[nodiscard]] Dimension divide(const Dimension& a, const Dimension& b);
[[nodiscard]] Dimension power_of(const Dimension& a, int exponent);
[[nodiscard]] bool is_dimensionless(const Dimension& a);

// The exponents in the order metre, kilogram, second, ampere, kelvin, money; and back.
[[nodiscard]] std::array<int, 6> exponents(const Dimension& a);
// Throws std::out_of_range if an exponent doesn't fit (magnitude above 100).
[[nodiscard]] Dimension from_exponents(const std::array<int, 6>& exponents);

// The coherent SI unit: "W", "K/W", "money", "1", otherwise base units such as "kg m2 s-3".
[[nodiscard]] std::string to_string(const Dimension& a);

// For messages: "power (W)", "frequency (Hz)", or just the unit where the dimension has no everyday name.
[[nodiscard]] std::string describe(const Dimension& a);

}  // namespace portweigh::figures

// Numbers for people: engineering notation with a prefix chosen from the magnitude, always the same text for
// the same number.
//
// Units that take prefixes (W, A, V, F, J, Hz, s, ...) are shown with the prefix that leaves 1..999 before
// the point; other units (USD, %, degC, mm2, uA/MHz, "1") are shown as they are. Times above two minutes go
// to min, h, d and year. Trailing zeros are dropped; digits before the point are never rounded away, so
// counts stay exact.
//
// Worked example: format_quantity(0.0069, W) == "6.9 mW"; (12e6, Hz) == "12 MHz"; (0.42, USD) == "0.42 USD";
//                 (0.99996, W) == "1 W"; (1234, "1") == "1234".
// Tested by tests/figures/units/format_quantity_test.cpp.
#pragma once

#include <string>

#include "figures/units/unit.hpp"

namespace portweigh::figures {

// `digits` significant digits; money is given one more.
[[nodiscard]] std::string format_quantity(double value_si, const Unit& unit, int digits = 3);
[[nodiscard]] std::string format_quantity(double value_si, const Dimension& dimension, int digits = 3);

// The unit format_quantity would choose; lets a column of a table share one unit.
[[nodiscard]] Unit display_unit(double value_si, const Unit& unit, int digits = 3);

// The value in exactly this unit, number only: format_in_unit(0.0069, mW) == "6.9".
[[nodiscard]] std::string format_in_unit(double value_si, const Unit& unit, int digits = 3);

// A bare number: format_number(1234.56, 3) == "1235", format_number(0.012345, 3) == "0.0123".
[[nodiscard]] std::string format_number(double value, int digits = 3);

}  // namespace portweigh::figures

// Units of measure at the edge of the program: SI inside, the reader's and the report's units outside.
//
// A unit is a scale (and for degrees Celsius an offset) to the coherent SI unit of its dimension:
//     value_si = value * factor + offset
// Accepted text: SI units with prefixes ("mW", "uA/MHz", "µs", "K/W", "mm2", "J s-1"), degC, %, "1", bit, B,
// kB, KiB, MiB, min, h, d, year, inch, degF and currency codes of ISO 4217 ("USD", "EUR/h"): those of
// unit_table.cpp, which the tests compare with UDUNITS-2. A byte is 8 bits and a bit is dimensionless 1, so
// "2 KiB" is 16384. Celsius has its offset only when it stands alone: "degC" is a temperature, "degC/W" a
// difference per watt.
//
// Worked example: parse_quantity("7 mW").value_si == 0.007;  parse_quantity("25 degC").value_si == 298.15;
//                 format_quantity(0.006912, parse_unit("W")) == "6.91 mW".
// Tested by tests/figures/units/unit_test.cpp and tests/figures/units/quantity_test.cpp.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

#include "figures/units/dimension.hpp"

namespace portweigh::figures {

struct Unit {
  Dimension dimension;
  double factor = 1.0;
  double offset = 0.0;
  std::string text = "1";   // as written: "mW", "USD/h", "1"
  std::string currency;     // "USD" if money is part of it, otherwise empty
  std::string base_symbol;  // "W" for "mW": the symbol that takes SI prefixes; empty if the unit takes none

  friend bool operator==(const Unit&, const Unit&) = default;
};

struct Quantity {
  double value_si = 0.0;
  Unit unit;
};

// Text that is not a unit or not a quantity; what() says what was expected.
class UnitError : public std::invalid_argument {
 public:
  using std::invalid_argument::invalid_argument;
};

// Throws UnitError. "" is an error, "1" is the dimensionless unit.
[[nodiscard]] Unit parse_unit(std::string_view text);

// A finite number, then optionally a unit: "7 mW", "7mW", "-40 degC", "35 %", "12". Throws UnitError.
[[nodiscard]] Quantity parse_quantity(std::string_view text);

// The coherent unit of a dimension ("W", "K/W", "1"). Money needs its code; without one the text says
// "money".
[[nodiscard]] Unit coherent_unit(const Dimension& dimension, std::string_view currency = "");

[[nodiscard]] double to_si(double value, const Unit& unit);
[[nodiscard]] double from_si(double value_si, const Unit& unit);

}  // namespace portweigh::figures

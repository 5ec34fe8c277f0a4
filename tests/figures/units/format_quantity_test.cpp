#include "figures/units/format_quantity.hpp"

#include <catch2/catch.hpp>
#include <limits>

using namespace portweigh::figures;

namespace {
std::string shown(double value_si, std::string_view unit) {
  return format_quantity(value_si, parse_unit(unit));
}
}  // namespace

TEST_CASE("engineering notation chooses the prefix from the magnitude") {
  CHECK(shown(0.0069, "W") == "6.9 mW");
  CHECK(shown(0.006912, "uW") == "6.91 mW");
  CHECK(shown(12e6, "Hz") == "12 MHz");
  CHECK(shown(1e-9, "F") == "1 nF");
  CHECK(shown(-0.25, "V") == "-250 mV");
  CHECK(shown(0.0, "mA") == "0 A");
  CHECK(shown(2.5e-7, "s") == "250 ns");
  CHECK(shown(0.002, "kg") == "2 g");
  CHECK(shown(4700.0, "Ohm") == "4.7 kOhm");
  CHECK(shown(4.2e-17, "J") == "0.042 fJ");
  CHECK(format_quantity(0.5, dimensions::power) == "500 mW");
  CHECK(format_quantity(40.0, dimensions::thermal_resistance) == "40 K/W");
}

TEST_CASE("rounding up to a thousand moves on to the next prefix") {
  CHECK(shown(0.99996, "W") == "1 W");
  CHECK(shown(0.9994, "W") == "999 mW");
  CHECK(shown(999.6e3, "Hz") == "1 MHz");
}

TEST_CASE("money, counts and shares are shown as they are") {
  CHECK(shown(0.42, "USD") == "0.42 USD");
  CHECK(shown(12.345, "USD") == "12.35 USD");
  CHECK(shown(123456.7, "EUR") == "123457 EUR");
  CHECK(shown(1234.0, "1") == "1234");
  CHECK(shown(18432.0, "1") == "18432");
  CHECK(shown(0.35, "%") == "35 %");
  CHECK(shown(16384.0, "KiB") == "2 KiB");
  CHECK(shown(16384.0, "bit") == "16.4 kbit");
  CHECK(shown(358.15, "degC") == "85 degC");
  CHECK(shown(300e-12, "uA/MHz") == "300 uA/MHz");
}

TEST_CASE("hours of work stay hours") {
  CHECK(shown(300 * 3600.0, "h") == "300 h");
}

TEST_CASE("long times are shown in minutes, hours, days and years") {
  CHECK(shown(119.0, "s") == "119 s");
  CHECK(shown(600.0, "s") == "10 min");
  CHECK(shown(36000.0, "s") == "10 h");
  CHECK(shown(864000.0, "s") == "10 d");
  CHECK(shown(10 * 365.242198781 * 86400.0, "s") == "10 year");
  CHECK(shown(0.005, "year") == "5 ms");
}

TEST_CASE("numbers alone, and values that aren't finite") {
  CHECK(format_number(1234.56) == "1235");
  CHECK(format_number(0.012345) == "0.0123");
  CHECK(format_number(-0.0) == "0");
  CHECK(format_number(1e-9) == "1e-09");
  CHECK(format_number(3.0000001) == "3");
  CHECK(shown(std::numeric_limits<double>::quiet_NaN(), "W") == "undefined W");
  CHECK(shown(std::numeric_limits<double>::infinity(), "W") == "infinite W");
  CHECK(format_in_unit(0.0069, parse_unit("mW")) == "6.9");
  CHECK(display_unit(0.0069, parse_unit("W")).text == "mW");
}

TEST_CASE("ties go away from zero, as ECMAScript's toFixed has them; what only looks like one doesn't") {
  CHECK(format_number(1.125) == "1.13");
  CHECK(format_number(-1.125) == "-1.13");
  CHECK(format_number(1.375) == "1.38");
  CHECK(format_number(2.5, 1) == "3");
  CHECK(format_number(1.115) == "1.11");  // 1.11499999999999999112
}

TEST_CASE("what is shown reads back to the value shown") {
  for (const double value : {1.0, 9.99e-13, 3.14e-7, 0.0271, 999.0, 4.56e10}) {
    for (const char* const unit : {"W", "A", "Hz", "F"}) {
      const auto text = shown(value, unit);
      INFO(text);
      CHECK(parse_quantity(text).value_si == Approx(value).epsilon(1e-12));
    }
  }
}

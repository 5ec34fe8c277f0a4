#include "figures/units/unit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "figures/units/unit_table.hpp"
#include "udunits_fixture.hpp"

using namespace portweigh::figures;

namespace {

void check_unit(const std::string& text, const Dimension& dimension, double factor) {
  INFO(text);
  const auto unit = parse_unit(text);
  CHECK(unit.dimension == dimension);
  CHECK(unit.factor == Approx(factor).epsilon(1e-14));
  CHECK(unit.text == text);
}

test::ScaledDimension reference(const std::string& text) {
  const auto found = test::look_up_in_udunits(text);
  REQUIRE(found);
  return *found;
}

std::string complaint(const std::string& text) {
  try {
    (void)parse_unit(text);
  } catch (const UnitError& error) {
    return error.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("units with prefixes, powers, products and quotients") {
  check_unit("mW", dimensions::power, 1e-3);
  check_unit("uA", dimensions::current, 1e-6);
  check_unit("\u00B5s", dimensions::time, 1e-6);
  check_unit("\u03BCs", dimensions::time, 1e-6);
  check_unit("MHz", dimensions::frequency, 1e6);
  check_unit("kOhm", dimensions::resistance, 1e3);
  check_unit("k\u03A9", dimensions::resistance, 1e3);
  check_unit("mm2", dimensions::area, 1e-6);
  check_unit("mm^2", dimensions::area, 1e-6);
  check_unit("cm\u00B2", dimensions::area, 1e-4);
  check_unit("J s-1", dimensions::power, 1.0);
  check_unit("uA/MHz", dimensions::charge, 1e-12);
  check_unit("pJ", dimensions::energy, 1e-12);
  check_unit("V*A", dimensions::power, 1.0);
  check_unit("mAh", dimensions::charge, 3.6);
  check_unit("1/year", dimensions::frequency, 1.0 / (365.242198781 * 86400.0));
  check_unit("K/W", dimensions::thermal_resistance, 1.0);
  check_unit("%", dimensions::dimensionless, 0.01);
  check_unit("1", dimensions::dimensionless, 1.0);
  check_unit("KiB", dimensions::dimensionless, 8192.0);
  check_unit("kB", dimensions::dimensionless, 8000.0);
  check_unit("kbit/s", dimensions::frequency, 1000.0);
  check_unit("W/(m2 K)", divide(dimensions::power, Dimension{2, 0, 0, 0, 1}), 1.0);
  check_unit("inch", dimensions::length, 0.0254);
}

TEST_CASE("min and m, h and H, C and degC are different units") {
  CHECK(parse_unit("min").dimension == dimensions::time);
  CHECK(parse_unit("m").dimension == dimensions::length);
  CHECK(parse_unit("h").factor == 3600.0);
  CHECK(parse_unit("H").dimension == dimensions::inductance);
  CHECK(parse_unit("C").dimension == dimensions::charge);
  CHECK(parse_unit("mW").factor == 1e-3);
  CHECK(parse_unit("MW").factor == 1e6);
}

TEST_CASE("Celsius has its offset only when it stands alone") {
  CHECK(to_si(25.0, parse_unit("degC")) == 298.15);
  CHECK(from_si(358.15, parse_unit("\u00B0C")) == Approx(85.0));
  CHECK(parse_unit("degC/W").offset == 0.0);
  CHECK(parse_unit("degC/W").dimension == dimensions::thermal_resistance);
}

TEST_CASE("money keeps its currency") {
  const auto rate = parse_unit("EUR/h");
  CHECK(rate.dimension == dimensions::money_per_time);
  CHECK(rate.currency == "EUR");
  CHECK(parse_unit("USD").currency == "USD");
  CHECK(parse_unit("W").currency.empty());
  CHECK(parse_unit("USD/cm2").factor == Approx(1e4));
}

TEST_CASE("what is not a unit is refused with what was expected") {
  CHECK(complaint("mWw") == "unknown unit \"mWw\", expected a unit such as mW, uA/MHz, degC, % or USD/h");
  CHECK(complaint("KHZ") ==
        "unknown unit \"KHZ\", expected a unit such as mW, uA/MHz, degC, % or USD/h; nearest: \"kHz\"");
  CHECK(complaint("MHZ") ==
        "unknown unit \"MHZ\", expected a unit such as mW, uA/MHz, degC, % or USD/h; nearest: \"mHz\" or "
        "\"MHz\"");
  CHECK(complaint("uA/foo") ==
        "unknown unit \"foo\" in \"uA/foo\", expected a unit such as mW, uA/MHz, degC, % or USD/h");
  CHECK(complaint("") == "empty unit, expected a unit such as mW, degC, % or USD");
  CHECK(complaint("USD/EUR") == "unit \"USD/EUR\" mixes the currencies USD and EUR, expected one currency");
  for (const std::string text :
       {"W/", "/W", "W//s", "dB", "cd", "rpm", "since 1970", "K @ 5", "(K @ 5)", "W 5", "(", "W/(m2 K", "m)",
        "((m))", "()", "XYZ", "W\n", "\xff\xfe", "m99"}) {
    INFO(text);
    CHECK(complaint(text) != "accepted");
  }
  CHECK(complaint(std::string(10000, 'm')) == "unit of more than 64 characters");
}

// UDUNITS-2 is the independent reference here. It has no bytes, bits as counts, Ah or Wh, and takes "%" and
// "1" too.
TEST_CASE("the table of common units agrees with UDUNITS") {
  const std::vector<std::string> unknown_there = {"Ah", "Wh", "bit", "B", "byte"};
  int compared = 0;
  for (const auto& symbol : plain_symbols()) {
    if (std::find(unknown_there.begin(), unknown_there.end(), symbol) != unknown_there.end()) continue;
    const auto plain = *find_symbol(symbol);
    for (const auto& prefix : engineering_prefixes()) {
      const auto text = std::string(prefix.text) + symbol;
      const auto ours = find_symbol(text);
      // A symbol without prefixes may meet another unit: "k" and "min" make nothing, "m" and "in" make
      // inches.
      if (!ours || ours->dimension != plain.dimension) continue;
      INFO(text);
      const auto theirs = reference(text);
      CHECK(ours->dimension == theirs.dimension);
      CHECK(ours->factor == Approx(theirs.factor).epsilon(1e-12));
      CHECK(ours->offset == Approx(theirs.offset).epsilon(1e-12));
      ++compared;
    }
  }
  CHECK(compared > 150);
  for (const std::string text : {"kg.m2.s-3", "uA/MHz", "mm2", "J s-1", "K/W", "m/s/s", "A h", "1/s", "V*A",
                                 "W/(m2 K)", "W / (m2.K) s", "(J s)/(kg m)"}) {
    INFO(text);
    CHECK(parse_unit(text).dimension == reference(text).dimension);
    CHECK(parse_unit(text).factor == Approx(reference(text).factor).epsilon(1e-12));
  }
}

TEST_CASE("the coherent unit of a dimension") {
  CHECK(coherent_unit(dimensions::power).text == "W");
  CHECK(coherent_unit(dimensions::mass).text == "kg");
  CHECK(coherent_unit(dimensions::money, "EUR").text == "EUR");
  CHECK(coherent_unit(dimensions::money_per_time, "EUR").text == "EUR/s");
  CHECK(coherent_unit(dimensions::money_per_time, "EUR").currency == "EUR");
  CHECK(coherent_unit(dimensions::money).text == "money");
}

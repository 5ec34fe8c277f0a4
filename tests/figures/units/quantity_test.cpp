#include <catch2/catch.hpp>
#include <string>

#include "figures/units/unit.hpp"

using namespace portweigh::figures;

namespace {

std::string complaint(const std::string& text) {
  try {
    (void)parse_quantity(text);
  } catch (const UnitError& error) {
    return error.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("quantities become SI values") {
  CHECK(parse_quantity("7 mW").value_si == Approx(0.007));
  CHECK(parse_quantity("7mW").value_si == Approx(0.007));
  CHECK(parse_quantity("  7  mW ").value_si == Approx(0.007));
  CHECK(parse_quantity("-40 degC").value_si == Approx(233.15));
  // Water boils at 212 degF (definition of the scale).
  CHECK(parse_quantity("212 degF").value_si == Approx(373.15));
  CHECK(parse_quantity("+1.5e-3 V").value_si == Approx(0.0015));
  CHECK(parse_quantity("35 %").value_si == Approx(0.35));
  CHECK(parse_quantity("12").value_si == 12.0);
  CHECK(parse_quantity("300 kbit/s").value_si == Approx(300e3));
  CHECK(parse_quantity("2 KiB").value_si == 16384.0);
  CHECK(parse_quantity("0.42 USD").unit.currency == "USD");
  CHECK(parse_quantity("0.1 1/year").unit.dimension == dimensions::frequency);
}

TEST_CASE("garbage, NaN and infinities are refused with what was expected") {
  const std::string expected = " is not a quantity, expected a finite number and a unit such as \"7 mW\"";
  for (const std::string text : {"", " ", "mW", "nan W", "NaN", "inf W", "-inf", "infinity", "7 5 W", "+-3 W",
                                 "--3 W", "+ 3 W", "- 3", ".", "7 -5 W"}) {
    INFO(text);
    CHECK(complaint(text) == "\"" + text + "\"" + expected);
  }
  CHECK(complaint("1e400 W") == "\"1e400 W\" is out of range, expected a finite number");
  CHECK(complaint("1e300 TW/fs") == "\"1e300 TW/fs\" is out of range, expected a finite number");
  CHECK(complaint("1,000 W").starts_with("unknown unit \",\" in \",000 W\""));
  CHECK(complaint("0x10 W").starts_with("unknown unit \"x10\""));
  CHECK(complaint("7 mW mW mW mW mW mW mW mW mW") != "accepted");
}

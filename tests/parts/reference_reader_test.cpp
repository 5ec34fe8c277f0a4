// Spreads and currencies: what is read, and the mistakes word for word.
#include "parts/reference_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines currency_mistakes(const std::string& text) {
  return texts::mistakes(text, [](reading::TableReader& reader) { (void)read_currencies(reader); });
}

Lines spread_mistakes(const std::string& text) {
  return texts::mistakes(text, [](reading::TableReader& reader) { (void)read_spreads(reader); });
}

TEST_CASE("rates refer to the base currency, whose own rate is 1") {
  auto document = reading::Document::parse(
      "base = \"USD\"\n[rates.EUR]\nper_base = 0.96\ndate = \"2025-01-02\"\n", "part.toml");
  auto root = document.root();
  const auto rates = read_currencies(root);
  document.throw_if_errors();
  CHECK(rates.at("USD").per_base == 1);
  CHECK(rates.at("EUR").per_base == 0.96);
  CHECK(rates.at("EUR").date == "2025-01-02");
}

TEST_CASE("a rate needs a day of the calendar") {
  CHECK(currency_mistakes("base = \"USD\"\n[rates.EUR]\nper_base = 0.96\n") ==
        Lines{"part.toml:2:1: missing key \"date\" in [rates.EUR], expected a text that is not empty"});
  CHECK(currency_mistakes("base = \"USD\"\n[rates.EUR]\nper_base = 0.96\ndate = \"2025-02-30\"\n") ==
        Lines{"part.toml:4:8: \"2025-02-30\" is not a day, expected a date such as \"2025-01-31\""});
  CHECK(currency_mistakes("base = \"USD\"\n[rates.EUR]\nper_base = 0.96\ndate = \"yesterday\"\n").size() ==
        1);
}

TEST_CASE("unknown currencies and rates of zero are refused") {
  CHECK(currency_mistakes("base = \"USD\"\n[rates.EUX]\nper_base = 0.96\ndate = \"2025-01-02\"\n") ==
        Lines{"part.toml:2:1: \"EUX\" is not a currency code, expected one of ISO 4217 such as EUR"});
  CHECK(currency_mistakes("base = \"USD\"\n[rates.EUR]\nper_base = 0\ndate = \"2025-01-02\"\n") ==
        Lines{"part.toml:3:12: \"per_base\" is 0, expected a number from 1e-06 to 1000000000"});
  CHECK(currency_mistakes("base = \"USD\"\n[rates.USD]\nper_base = 1\ndate = \"2025-01-02\"\n") ==
        Lines{"part.toml:2:1: rate of the base currency USD, expected other currencies"});
}

TEST_CASE("spreads need a default and factors on the right side of 1") {
  CHECK(spread_mistakes("[luts.crc]\nlow_factor = 0.9\nhigh_factor = 1.2\n") ==
        Lines{"part.toml:1:1: no row \"default\", expected one for the classes without a row of their own"});
  CHECK(spread_mistakes("[luts.default]\nlow_factor = 1.1\nhigh_factor = 1.2\n") ==
        Lines{"part.toml:2:14: \"low_factor\" is 1.1, expected a number from 0.05 to 1"});
}

}  // namespace
}  // namespace portweigh::parts

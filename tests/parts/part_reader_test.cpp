// What is common to all parts: identity, packages, price list. Messages are compared word for word.
#include "parts/part_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"
#include "parts/fixed_function_reader.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_of(const std::string& text, const ReadingContext& context = texts::context()) {
  return texts::mistakes(text,
                         [&](reading::TableReader& reader) { (void)read_fixed_function(reader, context); });
}

Lines mistakes_after(const std::string& from, const std::string& to) {
  return mistakes_of(texts::changed(texts::fixed_function(), from, to));
}

TEST_CASE("a right file has no mistakes") {
  CHECK(mistakes_of(texts::fixed_function()) == Lines{});
}

TEST_CASE("values of a part arrive in SI units with their place and source") {
  auto document = reading::Document::parse(texts::fixed_function(), "part.toml");
  auto root = document.root();
  const auto device = read_fixed_function(root, texts::context());
  CHECK(device.part.highest_junction.value_si == Approx(373.15));
  CHECK(device.part.availability.value_si == Approx(10 * 365.2422 * 86400));
  CHECK(device.part.supply_voltage.range == figures::Range{3, 3.3, 3.6});
  CHECK(device.part.supply_voltage.source == figures::Source{"made up for the test", "part.toml", 6, 18});
  CHECK(device.part.packages.at(0).thermal_resistance.range.typical == 45);
  CHECK(device.part.prices.breaks.at(1).price.value_si == 1.5);
  CHECK(device.part.prices.breaks.at(1).price.unit.currency == "USD");
  CHECK(device.part.prices.high_factor == 1.2);
}

TEST_CASE("a main part is invented only where its file says so") {
  const auto is_invented = [](const std::string& text) {
    auto document = reading::Document::parse(text, "part.toml");
    auto root = document.root();
    return read_fixed_function(root, texts::context()).part.is_invented;
  };
  CHECK_FALSE(is_invented(texts::fixed_function()));
  CHECK(is_invented("invented = true\n" + texts::fixed_function()));
}

TEST_CASE("a mistake of one value says what was expected") {
  CHECK(mistakes_after("lead_time = \"80 d\"", "lead_time = \"80 mW\"") ==
        Lines{"part.toml:8:13: \"lead_time\" is \"80 mW\", which is power (W), expected time (s)"});
  CHECK(
      mistakes_after("lead_time = \"80 d\"", "lead_time = 80") ==
      Lines{
          "part.toml:8:13: \"lead_time\" is the plain number 80, expected time (s) as a string with a unit"});
  CHECK(mistakes_after("lead_time = \"80 d\"", "lead_time = \"-80 d\"") ==
        Lines{"part.toml:8:13: \"lead_time\" is \"-80 d\", expected 0 s .. 5 year"});
  CHECK(mistakes_after("usable_pins = 17", "usable_pins = -1") ==
        Lines{"part.toml:31:15: \"usable_pins\" is -1, expected an integer from 0 to 2000"});
  CHECK(mistakes_after("upgrade = \"field\"", "upgrade = \"feild\"") ==
        Lines{"part.toml:5:11: unknown upgrade \"feild\", expected one of none, factory, field; nearest: "
              "\"field\""});
  CHECK(
      mistakes_after("typical = \"3.3 V\"", "typical = \"3.7 V\"") ==
      Lines{"part.toml:6:18: \"supply_voltage\" is 3 V .. 3.7 V .. 3.6 V, expected low <= typical <= high"});
  CHECK(mistakes_after("low_factor = 0.9", "low_factor = nan") ==
        Lines{"part.toml:18:14: \"low_factor\" is nan, expected a number from 0.1 to 1"});
}

TEST_CASE("unknown and missing keys are mistakes") {
  CHECK(mistakes_after("family = \"family\"", "famly = \"family\"") ==
        Lines{"part.toml:1:1: missing key \"family\", expected lower-case words joined by hyphens, such as "
              "\"port-controller\"",
              "part.toml:3:1: unknown key \"famly\", expected one of active_current, attached_current, "
              "availability, detached_current, family, features, general_purpose_pins, highest_junction, id, "
              "invented, lead_time, package, price, programming_time, second_source, source, summary, "
              "supply_voltage, "
              "upgrade; nearest: \"family\""});
}

TEST_CASE("the id is the file's name and unique in the catalog") {
  CHECK(mistakes_after("id = \"part\"", "id = \"prat\"") ==
        Lines{"part.toml:1:6: id \"prat\" differs from the file's name, expected \"part\""});
  auto context = texts::context();
  context.ids["part"] = "catalog/external/part.toml";
  CHECK(mistakes_of(texts::fixed_function(), context) ==
        Lines{"part.toml:1:6: id \"part\" is taken by catalog/external/part.toml, expected a unique one"});
}

TEST_CASE("price breaks rise in quantity and don't rise in price") {
  CHECK(mistakes_after("quantity = 10000", "quantity = 1000") ==
        Lines{"part.toml:22:16: quantity 1000 follows 1000, expected rising quantities"});
  CHECK(mistakes_after("\"1.5 USD\"", "\"2.5 USD\"") ==
        Lines{"part.toml:22:31: price 2.5 follows 2, expected prices that don't rise with quantity"});
  CHECK(mistakes_after("\"1.5 USD\"", "\"2 USD\"") == Lines{});
  CHECK(mistakes_after("quantity = 1000,", "quantity = 0,") ==
        Lines{"part.toml:21:16: \"quantity\" is 0, expected a number from 1 to 10000000000"});
}

TEST_CASE("prices are in one currency that has a rate") {
  CHECK(mistakes_after("\"1.5 USD\"", "\"1.5 EUR\"") ==
        Lines{"part.toml:22:31: price in EUR, expected USD as in the first break"});
  CHECK(mistakes_of(texts::changed(texts::changed(texts::fixed_function(), "\"1.5 USD\"", "\"1.5 SEK\""),
                                   "\"2 USD\"", "\"2 SEK\"")) ==
        Lines{"part.toml:21:30: unknown currency \"SEK\", expected one of EUR, JPY, USD",
              "part.toml:22:31: unknown currency \"SEK\", expected one of EUR, JPY, USD"});
}

TEST_CASE("a package is listed once, with its longer side first") {
  const auto text = texts::fixed_function();
  const auto package = text.substr(text.find("[[package]]"));
  CHECK(mistakes_of(text + package) ==
        Lines{"part.toml:34:8: package \"qfn-24\" is listed twice, expected a unique name"});
  CHECK(mistakes_after("body_width = \"4 mm\"", "body_width = \"5 mm\"") ==
        Lines{"part.toml:28:14: body_width exceeds body_length, expected the shorter side"});
}

TEST_CASE("all mistakes of a file are told in one run") {
  auto text = texts::changed(texts::fixed_function(), "lead_time = \"80 d\"", "lead_time = \"80 W\"");
  text = texts::changed(text, "usable_pins = 17", "usable_pins = 1.5");
  text = texts::changed(text, "\"1.5 USD\"", "\"3 USD\"");
  CHECK(mistakes_of(text).size() == 3);
}

}  // namespace
}  // namespace portweigh::parts

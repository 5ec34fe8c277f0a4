#include <catch2/catch.hpp>
#include <functional>

#include "reading/table_reader.hpp"

using namespace portweigh::reading;
namespace dimensions = portweigh::figures::dimensions;

namespace {

std::string complaint(const std::string& text, const std::function<void(TableReader&)>& read) {
  try {
    auto document = Document::parse(text, "x.toml");
    auto root = document.root();
    read(root);
    document.throw_if_errors();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

// Message of one bad line, without the shown line and caret.
std::string complaint_of(const std::string& line, const QuantityRule& rule) {
  const auto text =
      complaint(line + "\n", [&](TableReader& root) { (void)root.required_quantity("x", rule); });
  return text.substr(0, text.find('\n'));
}

}  // namespace

TEST_CASE("a range keeps values, unit, place and source text") {
  const auto message = complaint(
      "source = \"the whole file\"\n"
      "leakage = { low = \"1 mW\", typical = \"2 mW\", high = \"0.004 W\", source = \"data sheet\" }\n"
      "[parts]\nclock = \"48 MHz\"\n[other]\nsource = \"closer\"\nvolume = 12\n",
      [](TableReader& root) {
        const auto leakage = root.required_range("leakage", dimensions::power);
        CHECK(leakage.range.low == Approx(1e-3));
        CHECK(leakage.range.typical == Approx(2e-3));
        CHECK(leakage.range.high == Approx(4e-3));
        CHECK(leakage.unit.text == "mW");
        CHECK(leakage.source == portweigh::figures::Source{"data sheet", "x.toml", 2, 11});
        auto parts = root.required_table("parts");
        const auto clock = parts.required_range("clock", dimensions::frequency);
        CHECK(clock.range == portweigh::figures::exactly(48e6));
        CHECK(clock.source == portweigh::figures::Source{"the whole file", "x.toml", 4, 9});
        auto other = root.required_table("other");
        const auto volume = other.required_quantity("volume", dimensions::dimensionless);
        CHECK(volume.value_si == 12.0);
        CHECK(volume.source == portweigh::figures::Source{"closer", "x.toml", 7, 10});
      });
  CHECK(message == "no error");
}

TEST_CASE("a single value is low, typical and high at once") {
  const auto message = complaint("b = \"10 mW\"\n", [](TableReader& root) {
    const auto b = root.optional_range("b", dimensions::power);
    REQUIRE(b.has_value());
    CHECK(b->range == portweigh::figures::exactly(10e-3));
    CHECK_FALSE(root.optional_range("c", dimensions::power).has_value());
  });
  CHECK(message == "no error");
}

TEST_CASE("temperatures have an offset, differences don't") {
  const auto message = complaint("ambient = \"-40 degC\"\nrise = \"20 degC\"\n", [](TableReader& root) {
    CHECK(root.required_quantity("ambient", dimensions::temperature).value_si == Approx(233.15));
    CHECK(root.required_quantity("rise", QuantityRule(dimensions::temperature).as_difference()).value_si ==
          Approx(20.0));
  });
  CHECK(message == "no error");
}

TEST_CASE("bad quantities are told word for word") {
  CHECK(complaint("clock = \"12 mW\"\n",
                  [](TableReader& root) { (void)root.required_quantity("clock", dimensions::frequency); }) ==
        "x.toml:1:9: \"clock\" is \"12 mW\", which is power (W), expected frequency (Hz)\n"
        "  clock = \"12 mW\"\n"
        "          ^");
  CHECK(complaint_of("x = 12", dimensions::frequency) ==
        "x.toml:1:5: \"x\" is the plain number 12, expected frequency (Hz) as a string with a unit");
  CHECK(complaint_of("x = true", dimensions::power) ==
        "x.toml:1:5: \"x\" is a boolean, expected power (W) as a string with a unit");
  CHECK(complaint_of("x = \"12 MHZ\"", dimensions::frequency) ==
        "x.toml:1:5: \"x\": unknown unit \"MHZ\", expected a unit such as mW, uA/MHz, degC, % or USD/h; "
        "nearest: "
        "\"mHz\" or \"MHz\"");
  CHECK(
      complaint_of("x = \"nan W\"", dimensions::power) ==
      "x.toml:1:5: \"x\": \"nan W\" is not a quantity, expected a finite number and a unit such as \"7 mW\"");
  CHECK(complaint_of("x = \"-1 mW\"", dimensions::power) ==
        "x.toml:1:5: \"x\" is \"-1 mW\", expected 0 W .. 1 kW");
  CHECK(complaint_of("x = \"200 GHz\"", dimensions::frequency) ==
        "x.toml:1:5: \"x\" is \"200 GHz\", expected 0 Hz .. 100 GHz");
  CHECK(complaint_of("x = inf", dimensions::dimensionless) ==
        "x.toml:1:5: \"x\" is inf, expected 0 .. 1e+15");
  CHECK(complaint_of("x = \"9 V\"", QuantityRule(dimensions::voltage).between(0.5, 5.5)) ==
        "x.toml:1:5: \"x\" is \"9 V\", expected 500 mV .. 5.5 V");
  CHECK(complaint_of("y = 1", dimensions::power) ==
        "x.toml:1:1: missing key \"x\", expected power (W) as a string with a unit");
  CHECK(complaint_of("x = \"7\"", dimensions::power) ==
        "x.toml:1:5: \"x\" is \"7\", which is a plain number, expected power (W)");
}

TEST_CASE("bad ranges are told word for word") {
  const auto read = [](TableReader& root) {
    CHECK(root.required_range("x", dimensions::power).range.high == 0.0);
  };
  CHECK(complaint("x = { low = \"3 mW\", typical = \"2 mW\", high = \"4 mW\" }\n", read) ==
        "x.toml:1:5: \"x\" is 3 mW .. 2 mW .. 4 mW, expected low <= typical <= high\n"
        "  x = { low = \"3 mW\", typical = \"2 mW\", high = \"4 mW\" }\n"
        "      ^");
  CHECK(complaint("x = { low = \"1 mW\", typcal = \"2 mW\", high = \"4 V\" }\n", read) ==
        "x.toml:1:5: missing key \"x.typical\", expected power (W) as a string with a unit\n"
        "  x = { low = \"1 mW\", typcal = \"2 mW\", high = \"4 V\" }\n"
        "      ^\n"
        "x.toml:1:21: unknown key \"typcal\", expected one of low, typical, high, source; nearest: "
        "\"typical\"\n"
        "  x = { low = \"1 mW\", typcal = \"2 mW\", high = \"4 V\" }\n"
        "                      ^\n"
        "x.toml:1:45: \"x.high\" is \"4 V\", which is voltage (V), expected power (W)\n"
        "  x = { low = \"1 mW\", typcal = \"2 mW\", high = \"4 V\" }\n"
        "                                              ^");
  CHECK(complaint("x = [1]\n", read) ==
        "x.toml:1:5: \"x\" is an array, expected power (W) as a string with a unit\n"
        "  x = [1]\n"
        "      ^");
}

TEST_CASE("arrays of quantities") {
  const auto message = complaint("steps = [\"1.2 V\", \"3 A\", \"1.8 V\"]\n", [](TableReader& root) {
    const auto steps = root.required_quantities("steps", dimensions::voltage);
    REQUIRE(steps.size() == 2);
    CHECK(steps[1].value_si == Approx(1.8));
    CHECK(steps[1].source.column == 26);
  });
  CHECK(message ==
        "x.toml:1:19: \"steps[1]\" is \"3 A\", which is current (A), expected voltage (V)\n"
        "  steps = [\"1.2 V\", \"3 A\", \"1.8 V\"]\n"
        "                    ^");
}

TEST_CASE("every named dimension has bounds that real values pass and slips don't") {
  CHECK(sane_bounds(dimensions::power).upper_si == 1000.0);
  CHECK(sane_bounds(dimensions::frequency).upper_si == 100e9);
  CHECK(sane_bounds(dimensions::voltage).upper_si == 1000.0);
  CHECK(sane_bounds(dimensions::current).upper_si == 100.0);
  CHECK(sane_bounds(dimensions::time).upper_si == Approx(100 * 365.25 * 86400));
  CHECK(sane_bounds(dimensions::money).upper_si == 1e9);
  CHECK(sane_bounds(dimensions::temperature).upper_si == 1000.0);
  CHECK(sane_bounds({7, 7, 7}).lower_si == 0.0);
}

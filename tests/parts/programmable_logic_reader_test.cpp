// Mistakes that only programmable logic can have, word for word.
#include "parts/programmable_logic_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes(
      texts::changed(texts::programmable_logic(), from, to),
      [](reading::TableReader& reader) { (void)read_programmable_logic(reader, texts::context()); });
}

TEST_CASE("a right device arrives in SI units") {
  auto document = reading::Document::parse(texts::programmable_logic(), "part.toml");
  auto root = document.root();
  const auto device = read_programmable_logic(root, texts::context());
  document.throw_if_errors();
  CHECK(device.cells == 512);
  CHECK(device.leakage_current.range.low == Approx(15e-6));
  CHECK(device.leakage_current.source.text == "curve 3");
  CHECK(device.leakage_doubling.range.typical == 23);
  CHECK(device.toggle_energy.range.typical == Approx(1.8e-12));
  REQUIRE(device.oscillator_frequency.has_value());
  CHECK(device.oscillator_frequency->range.typical == Approx(12e6));
  CHECK_FALSE(device.standby_current.has_value());
  CHECK(device.comparators == 0);
  CHECK(device.core_supply == CoreSupply::internal_linear);
  CHECK(device.configuration == Configuration::non_volatile);
}

TEST_CASE("a doubling temperature is a difference, in kelvin or degrees") {
  CHECK(mistakes_after("\"23 K\"", "\"23 degC\"") == Lines{});
  CHECK(mistakes_after("\"23 K\"", "\"300 K\"") ==
        Lines{"part.toml:28:20: \"leakage_doubling\" is \"300 K\", expected 3 K .. 100 K"});
}

TEST_CASE("shares and sizes of a fabric have bounds") {
  CHECK(mistakes_after("high = 0.93", "high = 1.2") ==
        Lines{"part.toml:19:50: \"fill_limit.high\" is 1.2, expected 0 .. 1"});
  CHECK(mistakes_after("lut_inputs = 4", "lut_inputs = 9") ==
        Lines{"part.toml:13:14: \"lut_inputs\" is 9, expected an integer from 3 to 8"});
  CHECK(mistakes_after("\"1.8 pJ\"", "\"1.8 mJ\"") ==
        Lines{"part.toml:29:17: \"toggle_energy\" is \"1.8 mJ\", expected 0 J .. 1 uJ"});
  CHECK(
      mistakes_after("\"1.8 pJ\"", "inf") ==
      Lines{
          "part.toml:29:17: \"toggle_energy\" is the plain number inf, expected energy (J) as a string with "
          "a unit"});
}

TEST_CASE("the oscillator's dividers are whole and rising; without them powers of two") {
  const auto read = [](const std::string& text) {
    auto document = reading::Document::parse(text, "part.toml");
    auto root = document.root();
    auto device = read_programmable_logic(root, texts::context());
    document.throw_if_errors();
    return device.oscillator_dividers;
  };
  CHECK(read(texts::programmable_logic()) == std::vector<double>{1, 2, 4, 8, 16, 32, 64, 128});
  const auto with = [](const std::string& dividers) {
    return texts::changed(texts::programmable_logic(), "cells = 512",
                          "cells = 512\noscillator_dividers = " + dividers);
  };
  CHECK(read(with("[1, 3, 12]")) == std::vector<double>{1, 3, 12});
  const auto mistakes = [&](const std::string& dividers) {
    return mistakes_after("cells = 512", "cells = 512\noscillator_dividers = " + dividers);
  };
  CHECK(mistakes("[1, 2.5]") == Lines{"part.toml:13:27: divider 2.5, expected a whole number"});
  CHECK(mistakes("[4, 2]") == Lines{"part.toml:13:27: divider 2 follows 4, expected rising dividers"});
  CHECK(mistakes("[0]") == Lines{"part.toml:13:24: \"oscillator_dividers[0]\" is 0, expected 1 .. 1048576"});
}

TEST_CASE("keys that need one another") {
  CHECK(mistakes_after("oscillator_current = \"450 uA\"\n", "") ==
        Lines{"part.toml:35:24: oscillator_frequency without oscillator_current, expected both"});
  CHECK(mistakes_after("cells = 512", "cells = 512\ncomparators = 2") ==
        Lines{"part.toml:13:15: comparators without comparator_current, expected both"});
  const std::string slow =
      "cells = 512\ncomparators = 2\ncomparator_current = \"30 uA\"\ncomparator_standby_current = ";
  CHECK(mistakes_after("cells = 512", slow + "\"1 uA\"") == Lines{});
  CHECK(
      mistakes_after("cells = 512", slow + R"({ low = "1 uA", typical = "2 uA", high = "31 uA" })") ==
      Lines{
          "part.toml:15:30: comparator_standby_current above comparator_current, expected at most as much at "
          "low, typical and high"});
  CHECK(mistakes_after("ram_block_bits = 9216", "ram_block_bits = 0") ==
        Lines{"part.toml:17:18: 2 RAM blocks of 0 bits, expected at least 1 bit"});
  CHECK(mistakes_after("core_voltage = \"1.2 V\"", "core_voltage = \"5 V\"") ==
        Lines{"part.toml:25:16: core at 5 V from a linear regulator on 3.3 V, expected at most the supply "
              "voltage"});
}

}  // namespace
}  // namespace portweigh::parts

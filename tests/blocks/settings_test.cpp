// Settings: defaults, reading of text for each domain, bounds, messages with the nearest name.
#include "blocks/settings.hpp"

#include <catch2/catch.hpp>
#include <limits>

namespace portweigh::blocks {
namespace {

const std::vector<Setting>& declared() {
  static const std::vector<Setting> settings{
      {"width", "bits of the register", IntegerDomain{1, 16, 64}},
      {"polynomial", "taps", IntegerDomain{1, 0x1021, std::numeric_limits<std::uint64_t>::max()}},
      {"code", "line code", ChoiceDomain{{"biphase-mark", "manchester"}, "biphase-mark"}},
      {"reflected", "low bit first", FlagDomain{false}},
      {"bit_rate", "bits a second", FrequencyDomain{1e3, 300e3, 100e6}},
      {"file", "a table", TextDomain{"sink.toml"}}};
  return settings;
}

std::string message_of(std::string_view name, std::string_view text) {
  auto settings = Settings::standard(declared());
  try {
    settings.set(name, text);
  } catch (const SettingError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("settings start at their defaults and know what was changed") {
  auto settings = Settings::standard(declared());
  CHECK(settings.integer("width") == 16);
  CHECK(settings.choice("code") == "biphase-mark");
  CHECK_FALSE(settings.flag("reflected"));
  CHECK(settings.frequency_hz("bit_rate") == 300e3);
  CHECK(settings.choice("file") == "sink.toml");
  CHECK_FALSE(settings.was_set("width"));
  settings.set("width", "16");
  CHECK_FALSE(settings.was_set("width"));
  settings.set("width", "17");
  CHECK(settings.was_set("width"));
  CHECK(settings.to_string() ==
        "width=17 polynomial=0x1021 code=biphase-mark reflected=false bit_rate=300000Hz file=sink.toml");
  settings.set("file", "/somewhere/else/source.toml");
  CHECK(settings.changes_to_string() == "width=17 file=source.toml");
}

TEST_CASE("text is read as the domain asks") {
  auto settings = Settings::standard(declared());
  settings.set("polynomial", "0x04C11DB7");
  CHECK(settings.integer("polynomial") == 0x04C11DB7);
  settings.set("polynomial", "18446744073709551615");
  CHECK(settings.integer("polynomial") == std::numeric_limits<std::uint64_t>::max());
  settings.set("reflected", "true");
  CHECK(settings.flag("reflected"));
  settings.set("code", "manchester");
  CHECK(settings.choice("code") == "manchester");
  settings.set("bit_rate", "1.2 MHz");
  CHECK(settings.frequency_hz("bit_rate") == Approx(1.2e6));
  settings.set("file", std::string("source.toml"));
  CHECK(settings.choice("file") == "source.toml");
}

TEST_CASE("typed values are checked like text") {
  auto settings = Settings::standard(declared());
  settings.set("width", SettingValue{std::uint64_t{64}});
  settings.set("bit_rate", SettingValue{600e3});
  settings.set("reflected", SettingValue{true});
  settings.set("code", SettingValue{std::string("manchester")});
  CHECK(settings.integer("width") == 64);
  CHECK(settings.frequency_hz("bit_rate") == 600e3);
  CHECK(settings.flag("reflected"));
  CHECK(settings.choice("code") == "manchester");
  CHECK_THROWS_AS(settings.set("width", SettingValue{std::uint64_t{65}}), SettingError);
  CHECK_THROWS_AS(settings.set("bit_rate", SettingValue{std::numeric_limits<double>::infinity()}),
                  SettingError);
  CHECK_THROWS_AS(settings.set("bit_rate", SettingValue{std::numeric_limits<double>::quiet_NaN()}),
                  SettingError);
  CHECK_THROWS_AS(settings.set("reflected", SettingValue{std::uint64_t{1}}), SettingError);
  CHECK_THROWS_AS(settings.set("code", SettingValue{std::uint64_t{1}}), SettingError);
  CHECK_THROWS_AS(settings.set("bit_rate", SettingValue{std::uint64_t{300000}}), SettingError);
  CHECK(settings.integer("width") == 64);
}

TEST_CASE("messages say what was wrong, what was expected and the nearest name") {
  CHECK(message_of("widht", "3").find("nearest: \"width\"") != std::string::npos);
  CHECK(message_of("code", "manchster").find("nearest: \"manchester\"") != std::string::npos);
  CHECK(message_of("width", "65") ==
        "setting \"width\": \"65\" is not accepted, expected an integer from 1 to 64");
  CHECK(message_of("width", "0").find("expected an integer from 1 to 64") != std::string::npos);
  CHECK(message_of("reflected", "yes") ==
        "setting \"reflected\": \"yes\" is not accepted, expected true or false");
  for (const char* text : {"", "0x", "-1", "1.5", " 16", "16 ", "sixteen", "99999999999999999999"}) {
    CAPTURE(text);
    CHECK_FALSE(message_of("width", text).empty());
  }
  for (const char* text : {"300", "7 mW", "0 Hz", "-300 kHz", "1 THz", "nan Hz", "300 kHzz", ""}) {
    CAPTURE(text);
    CHECK(message_of("bit_rate", text).find("expected a frequency from 1000 Hz") != std::string::npos);
  }
  CHECK_FALSE(message_of("file", "").empty());
}

TEST_CASE("asking for a setting that was not declared is a defect") {
  const auto settings = Settings::standard(declared());
  CHECK_THROWS_AS(settings.integer("height"), std::logic_error);
  CHECK_THROWS_AS(settings.integer("code"), std::logic_error);
  CHECK_THROWS_AS(settings.flag("width"), std::logic_error);
}

}  // namespace portweigh::blocks

// Reading of small parts, and their mistakes word for word.
#include "parts/external_part_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes(texts::changed(texts::external_part(), from, to), [](reading::TableReader& reader) {
    (void)read_external_part(reader, texts::context());
  });
}

TEST_CASE("an external part arrives in SI units") {
  auto document = reading::Document::parse(texts::external_part(), "part.toml");
  auto root = document.root();
  const auto part = read_external_part(root, texts::context());
  document.throw_if_errors();
  CHECK(part.role == ExternalRole::comparator);
  CHECK(part.channels == 2);
  CHECK(part.board_area.value_si == Approx(9e-6));
  CHECK(part.active_current.range.typical == Approx(70e-6));
}

TEST_CASE("a part is invented only where its file says so") {
  const auto is_invented = [](const std::string& text) {
    auto document = reading::Document::parse(text, "part.toml");
    auto root = document.root();
    const bool answer = read_external_part(root, texts::context()).is_invented;
    document.throw_if_errors();
    return answer;
  };
  CHECK_FALSE(is_invented(texts::external_part()));
  CHECK(is_invented("invented = true\n" + texts::external_part()));
  CHECK_FALSE(is_invented("invented = false\n" + texts::external_part()));
  CHECK_THROWS_AS(is_invented("invented = \"yes\"\n" + texts::external_part()), reading::InputError);
}

TEST_CASE("a role comes from a closed list") {
  CHECK(mistakes_after("\"comparator\"", "\"comparitor\"") ==
        Lines{"part.toml:3:8: unknown role \"comparitor\", expected one of comparator, analogue-switch, "
              "reference, crystal, regulator, configuration-flash, level-shifter, resistor; nearest: "
              "\"comparator\""});
}

TEST_CASE("a regulator tells what it makes, a configuration memory what it holds") {
  CHECK(mistakes_after("\"comparator\"", "\"regulator\"") ==
        Lines{"part.toml:3:8: regulator without output_voltage, expected the voltage it makes"});
  CHECK(mistakes_after("role = \"comparator\"", "role = \"regulator\"\noutput_voltage = \"1.1 V\"").empty());
  CHECK(mistakes_after("\"comparator\"", "\"configuration-flash\"") ==
        Lines{"part.toml:3:8: configuration memory without capacity, expected its size"});
  CHECK(mistakes_after("role = \"comparator\"", "role = \"configuration-flash\"\ncapacity = \"64 KiB\"")
            .empty());
  CHECK(mistakes_after("role = \"comparator\"", "role = \"configuration-flash\"\ncapacity = 65536") ==
        Lines{"part.toml:4:12: capacity without a unit, expected a size such as \"32 KiB\""});
  const std::string memory = "role = \"configuration-flash\"\ncapacity = \"64 KiB\"\nerase_page = ";
  CHECK(mistakes_after("role = \"comparator\"", memory + "\"4 KiB\"").empty());
  CHECK(mistakes_after("role = \"comparator\"", memory + "\"0 B\"") ==
        Lines{"part.toml:5:14: erase page of 0 bytes, expected 1 byte to the 65536 bytes of capacity"});
}

TEST_CASE("a part in standby takes at most what it takes at work") {
  CHECK(mistakes_after("\"5 uA\"", "\"70 uA\"").empty());
  CHECK(
      mistakes_after("\"5 uA\"", "\"71 uA\"") ==
      Lines{
          "part.toml:6:19: standby_current above active_current, expected at most as much at low, typical and high"});
}

TEST_CASE("a price list is of steps and single pieces unless it says otherwise") {
  const auto prices_of = [](const std::string& text) {
    auto document = reading::Document::parse(text, "part.toml");
    auto root = document.root();
    const auto part = read_external_part(root, texts::context());
    document.throw_if_errors();
    return part.prices;
  };
  const Prices plain = prices_of(texts::external_part());
  CHECK(plain.between == BetweenBreaks::steps);
  CHECK(plain.lot == 1);
  const Prices told = prices_of(texts::changed(texts::external_part(), "price = {",
                                               "price = { between_breaks = \"log-log\", lot = 2500,"));
  CHECK(told.between == BetweenBreaks::log_log);
  CHECK(told.lot == 2500);
}

TEST_CASE("a part without a price is refused") {
  CHECK(mistakes_after("breaks = [ { quantity = 1000, price = \"0.2 USD\" } ]", "breaks = []") ==
        Lines{"part.toml:8:20: \"breaks\" is empty, expected at least one table"});
}

}  // namespace
}  // namespace portweigh::parts

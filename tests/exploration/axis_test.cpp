#include "exploration/axis.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::exploration;
using portweigh::figures::parse_unit;

namespace {

const std::vector<KnownInput>& known() {
  static const std::vector<KnownInput> inputs = {
      {"clock_rate", parse_unit("MHz")}, {"duty_cycle", parse_unit("1")}, {"ambient", parse_unit("degC")}};
  return inputs;
}

std::string message_of(const std::string& text) {
  try {
    parse_axis(text, known());
  } catch (const AxisError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("An axis with units, steps and equal factors") {
  const Axis axis = parse_axis("clock_rate=1 MHz:64MHz:7:log", known());
  CHECK(axis.input == "clock_rate");
  CHECK(axis.spacing == Spacing::logarithmic);
  const auto values = axis.values();
  REQUIRE(values.size() == 7);
  for (std::size_t i = 0; i < 7; ++i) CHECK(values[i] == Approx(1e6 * (1 << i)));
  CHECK(values.back() == 64e6);
}

TEST_CASE("A plain number is SI; eleven even steps unless told; temperatures have their zero point") {
  const Axis axis = parse_axis("duty_cycle=0.1:0.3", known());
  CHECK(axis.values().size() == 11);
  CHECK(axis.values()[5] == Approx(0.2));
  CHECK(axis.at(0.25) == Approx(0.15));
  CHECK(parse_axis("ambient=-10 degC:60 degC:3", known()).values()[1] == Approx(298.15));
}

TEST_CASE("What is wrong with an axis is said word for word") {
  CHECK(message_of("clock_rate") == "\"clock_rate\": expected INPUT=FROM:TO[:STEPS[:log]]");
  CHECK(message_of("clock_rate=1MHz") == "\"clock_rate=1MHz\": expected INPUT=FROM:TO[:STEPS[:log]]");
  CHECK(message_of("clock_rate=1MHz:2MHz:3:log:4") ==
        "\"clock_rate=1MHz:2MHz:3:log:4\": expected INPUT=FROM:TO[:STEPS[:log]]");
  CHECK(
      message_of("clok_rate=1MHz:2MHz") ==
      "unknown input \"clok_rate\", expected one of those that `list inputs` names; nearest: \"clock_rate\"");
  CHECK(message_of("zzzzzzzzzzzz=1:2") ==
        "unknown input \"zzzzzzzzzzzz\", expected one of those that `list inputs` names");
  CHECK(message_of("clock_rate=1 mW:2MHz") ==
        "clock_rate: \"1 mW\" has the wrong unit, expected frequency (Hz)");
  CHECK(message_of("duty_cycle=0.1:0.2:1") ==
        "duty_cycle: \"1\" steps, expected a whole number from 2 to 1001");
  CHECK(message_of("duty_cycle=0.1:0.2:1002") ==
        "duty_cycle: \"1002\" steps, expected a whole number from 2 to 1001");
  CHECK(message_of("duty_cycle=0.1:0.2:3.5") ==
        "duty_cycle: \"3.5\" steps, expected a whole number from 2 to 1001");
  CHECK(message_of("duty_cycle=0.1:0.2:3:lin") == "duty_cycle: \"lin\", expected log");
  CHECK(message_of("duty_cycle=0.2:0.1") == "duty_cycle: expected FROM below TO");
  CHECK(message_of("duty_cycle=0.2:0.2") == "duty_cycle: expected FROM below TO");
  CHECK(message_of("duty_cycle=0:1:5:log") == "duty_cycle: a logarithmic range starts above zero");
  CHECK(message_of("duty_cycle=nan:1").starts_with("duty_cycle: "));
  CHECK(message_of("duty_cycle=0:inf").starts_with("duty_cycle: "));
}

TEST_CASE("Values that an input can't take are refused with its bounds") {
  CHECK(message_of("duty_cycle=-1:1") == "duty_cycle: \"-1\" is no possible value, expected 0 to 1");
  CHECK(message_of("duty_cycle=0.5:1.5") == "duty_cycle: \"1.5\" is no possible value, expected 0 to 1");
  CHECK(message_of("duty_cycle=1e-320:1:5:log").starts_with("duty_cycle: \"1e-320\" is no possible value"));
  CHECK(message_of("duty_cycle=1e-20:1:5:log") == "duty_cycle: a logarithmic range spans at most 15 decades");
  CHECK(message_of("ambient=-300 degC:20 degC").starts_with("ambient: \"-300 degC\" is no possible value"));
  CHECK(message_of("ambient=20 degC:400 degC").starts_with("ambient: \"400 degC\" is no possible value"));
  CHECK(message_of("clock_rate=0:2MHz").starts_with("clock_rate: \"0\" is no possible value"));
  // The bounds themselves are values.
  CHECK(parse_axis("duty_cycle=0:1", known()).to == 1);
}

#include "report/terminal/exploration_text.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "report/terminal/text_table.hpp"

using namespace portweigh;
using namespace portweigh::report;
using Catch::Matchers::Contains;

namespace {

const std::vector<exploration::KnownInput> known = {
    {"study.ambient_temperature", figures::parse_unit("degC")}, {"clock_rate", figures::parse_unit("MHz")}};

// Two options over two temperatures; the second can't be built at the higher one.
exploration::Sweep temperature_sweep() {
  exploration::Sweep sweep;
  sweep.axes = {{"study.ambient_temperature", 298.15, 318.15, 2, exploration::Spacing::linear}};
  sweep.figure = "average_power";
  sweep.options = {"pl,one", "ff-two"};
  sweep.points = {{{298.15}, {{0.002, true}, {0.0004, true}}, 1}, {{318.15}, {{0.0025, false}, {}}, {}}};
  return sweep;
}

exploration::Sweep clock_sweep() {
  exploration::Sweep sweep = temperature_sweep();
  sweep.axes.push_back({"clock_rate", 1e6, 2e6, 2, exploration::Spacing::linear});
  const std::vector<exploration::SweptOption> both = {{0.002, true}, {0.0004, true}};
  sweep.points = {{{298.15, 1e6}, both, 1}, {{298.15, 2e6}, both, 0}, {{318.15, 1e6}, both, 1}};
  sweep.points.push_back({{318.15, 2e6}, {{0.002, false}, {0.0006, false}}, {}});
  return sweep;
}

}  // namespace

TEST_CASE("A sweep's CSV has a row for each point and option, in the units of its titles") {
  CHECK(sweep_csv(temperature_sweep(), known, "USD") ==
        "study.ambient_temperature [degC],option,average_power [W],feasible,leads\r\n"
        "25,\"pl,one\",0.002,1,0\r\n"
        "25,ff-two,0.0004,1,1\r\n"
        "45,\"pl,one\",0.0025,0,0\r\n"
        "45,ff-two,,,0\r\n");
}

TEST_CASE("A one-way winner map shows the leader's figure in engineering units") {
  const std::string text = winner_map_text(temperature_sweep(), known, "USD");
  CHECK_THAT(text, Contains("25 degC         400 uW    2 of 2  ff-two\n"));
  CHECK_THAT(text, Contains("45 degC              -    0 of 2  none\n"));
}

TEST_CASE("A two-way winner map names its columns, and each leader with its figure") {
  const std::string text = winner_map_text(clock_sweep(), known, "USD");
  CHECK_THAT(text, Contains("25 degC  AB\n") && Contains("45 degC  A.\n"));
  CHECK_THAT(text, Contains("columns from the left, clock_rate: 1 MHz, 2 MHz\n"));
  CHECK_THAT(text, Contains("A  ff-two: average_power 400 uW .. 400 uW\n"));
  CHECK_THAT(text, Contains("B  pl,one: average_power 2 mW .. 2 mW\n"));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(display_width(line) <= 80);
}

TEST_CASE("Shares of the variance that are zero have no sign") {
  Sensitivity sensitivity;
  sensitivity.option = "ff-two";
  exploration::FigureDrivers drivers;
  exploration::Driver driver;
  driver.coordinate = "duty_cycle";
  driver.first.value = -0.003;
  drivers.drivers.push_back(driver);
  sensitivity.figures.push_back({"average_power", drivers, figures::parse_unit("W")});
  const std::string text = sensitivity_text(sensitivity);
  CHECK_THAT(text, Contains("0.00") && !Contains("-0.00"));
}

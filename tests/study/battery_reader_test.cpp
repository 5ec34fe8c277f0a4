// The [battery] table: energy, or capacity with voltage; and budgets on its figures.
#include "study/battery_reader.hpp"

#include <catch2/catch.hpp>

#include "study_texts_fixture.hpp"

namespace portweigh::study {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_with(const std::string& battery, const std::string& budget = "") {
  const auto text = texts::changed(texts::study(), "[assembly]", battery + "[assembly]");
  return texts::mistakes_of_study(
      budget.empty() ? text : texts::changed(text, "figure = \"active_power\"\nlimit = \"12 mW\"", budget),
      texts::function());
}

const std::string coin_cell =
    "[battery]\ncapacity = \"225 mAh\"\nvoltage = \"3.0 V\"\nself_discharge = 0.01\n";

TEST_CASE("a battery is its energy, or capacity and voltage") {
  CHECK(mistakes_with(coin_cell) == Lines{});
  CHECK(
      mistakes_with("[battery]\nenergy = \"18 Wh\"\nself_discharge = { low = 0.1, typical = 0.2, high = 0.3 "
                    "}\nefficiency = 0.9\nother_power = \"25 mW\"\n") == Lines{});
  CHECK(mistakes_with("[battery]\ncapacity = \"225 mAh\"\nself_discharge = 0.01\n") ==
        Lines{"study.toml:23:1: a battery without its energy, expected energy, or capacity and voltage"});
  CHECK(mistakes_with("[battery]\nenergy = \"1 Wh\"\nvoltage = \"3 V\"\nself_discharge = 0.01\n") ==
        Lines{"study.toml:24:10: energy beside capacity or voltage, expected either energy, or both of "
              "these"});
  CHECK(mistakes_with("[battery]\nenergy = \"1 W\"\nself_discharge = 0.01\n") ==
        Lines{"study.toml:24:10: \"energy\" is \"1 W\", which is power (W), expected energy (J)"});
}

TEST_CASE("a budget on a battery's figure needs a battery and an upper limit that makes sense") {
  const std::string loss = "figure = \"standby_loss_per_day\"\nlimit = 0.002";
  CHECK(mistakes_with(coin_cell, loss) == Lines{});
  CHECK(mistakes_with("", loss) == Lines{"study.toml:28:10: standby_loss_per_day in a study without a "
                                         "battery, expected a table [battery]"});
  CHECK(mistakes_with(coin_cell, "figure = \"battery_life\"\nlimit = \"90 d\"") ==
        Lines{"study.toml:32:10: a limit is an upper one and a longer battery_life is better, expected a "
              "limit on average_power or standby_loss_per_day"});
}

}  // namespace
}  // namespace portweigh::study

// Each chip heats itself, and another one only through the board where the study tells how much.
#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"
#include "options/power/power.hpp"
#include "options/power/temperature.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

constexpr double celsius = 273.15;

// A fabric and a microcontroller with the heat paths and powers of the check values.
struct TwoDies {
  study::Study study = demo().study;
  parts::ProgrammableLogic logic = demo().catalog.programmable_logic.front();
  parts::Microcontroller processor = demo().catalog.microcontrollers.front();
  parts::Package first;
  parts::Package second;
  Candidate candidate;

  TwoDies() {
    study.ambient = exact_range(60, "degC");
    first.thermal_resistance = named("first", 35);
    second.thermal_resistance = named("second", 50);
    candidate.add(&logic);
    candidate.add(&processor);
  }
  static reading::SourcedRange named(const std::string& key, double value) {
    reading::SourcedRange range = exact_range(value, "K/W");
    range.input = {key, key, ""};
    return range;
  }
  OrShortfall<Power> heat(Draft& draft, double logic_w, double processor_w) {
    Packaged packaged{candidate.chips, draft.zero(figures::dimensions::time)};
    packaged.chips[0].package = &first;
    packaged.chips[1].package = &second;
    const auto watts = [&](double value) {
      return draft.ledger().constant(value, figures::dimensions::power, "given");
    };
    Drawn drawn;
    const auto none = watts(0);
    add_contribution(draft, drawn, {"logic", "logic", "busy", "quiet", EngineKind::fabric}, watts(logic_w),
                     none, none);
    add_contribution(draft, drawn, {"core", "core", "busy", "quiet", EngineKind::microcontroller},
                     watts(processor_w), none, none);
    add_contribution(draft, drawn, {"beside", "beside"}, watts(2), none, none);
    return sum_power_and_heat(draft, packaged, drawn);
  }
  std::vector<double> junctions_c() {
    study::name_inputs(study);
    const Context context{demo().catalog, demo().effort, study, demo().library};
    Draft draft(context, candidate);
    const auto power = heat(draft, 0.8, 0.3);
    REQUIRE(std::holds_alternative<Power>(power));
    std::vector<double> all;
    for (const std::string& key :
         {"junction_temperature." + logic.part.id, "junction_temperature." + processor.part.id,
          std::string("junction_temperature")}) {
      all.push_back(value_of(draft.option, key) - celsius);
    }
    return all;
  }
};

}  // namespace

// Check values [C]: 35 and 50 K/W, 12 K/W between them, 0.8 W and 0.3 W at 60 degC: 91.6 and 84.6 degC.
TEST_CASE("Two chips that are coupled warm each other") {
  TwoDies dies;
  dies.study.assembly.thermal_coupling = exact_range(12, "K/W");
  const auto junctions_c = dies.junctions_c();
  CHECK(junctions_c[0] == Approx(91.6));
  CHECK(junctions_c[1] == Approx(84.6));
  CHECK(junctions_c[2] == Approx(91.6));
}

TEST_CASE("Without a coupling each chip is warmed by its own power alone") {
  const auto junctions_c = TwoDies().junctions_c();
  CHECK(junctions_c[0] == Approx(60 + 35 * 0.8));
  CHECK(junctions_c[1] == Approx(60 + 50 * 0.3));
}

// Check value [C]: 20 mW of leakage at 25 degC that doubles every 20 K, 0.5 W beside it, at 60 degC: no solution above
// 57.877248 K/W.
TEST_CASE("A chip that runs away is told, another one's power doesn't make it") {
  for (const auto& [theta, settles] : {std::pair{57.8, true}, std::pair{57.95, false}}) {
    INFO(theta);
    TwoDies dies;
    dies.study.supply_voltage = exact_range(1, "V");
    dies.logic.leakage_current = exact_range(0.02, "A");
    dies.logic.leakage_doubling = exact_range(20, "K");
    dies.first.thermal_resistance = TwoDies::named("first", theta);
    study::name_inputs(dies.study);
    const Context context{demo().catalog, demo().effort, dies.study, demo().library};
    Draft draft(context, dies.candidate);
    const auto power = dies.heat(draft, 0.5, 3.0);
    CHECK(std::holds_alternative<Power>(power) == settles);
    if (const auto* reason = std::get_if<Shortfall>(&power)) {
      CHECK(reason->reason.find("thermal runaway") == 0);
      CHECK(reason->available == Approx(57.877248).epsilon(2e-3));
    }
  }
}

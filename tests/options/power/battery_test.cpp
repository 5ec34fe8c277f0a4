// Battery life and the loss in standby, against arithmetic by hand for a usual coin cell.
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/search/enumerate.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

reading::SourcedRange range(double value_si, const std::string& unit) {
  reading::SourcedRange sourced;
  sourced.range = figures::exactly(value_si);
  sourced.unit = figures::parse_unit(unit);
  return sourced;
}

// 225 mAh, 3.0 V, about 1 % a year: usual of lithium coin cells, common practice [M].
study::Battery coin_cell() {
  study::Battery battery;
  battery.capacity = range(0.225 * 3600, "mAh");
  battery.voltage = range(3.0, "V");
  battery.self_discharge = range(0.01, "1");
  return battery;
}

// The first option of the demo's, with another battery.
Option with_battery(const std::optional<study::Battery>& battery) {
  study::Study study = demo().study;
  study.battery = battery;
  study::name_inputs(study);
  const Context context{demo().catalog, demo().effort, study, demo().library};
  for (const Candidate& candidate : enumerate(context)) {
    Realised realised = realise(context, candidate);
    if (auto* option = std::get_if<Option>(&realised)) return std::move(*option);
  }
  FAIL("no option");
  throw std::logic_error("unreachable");
}

double value(const Option& option, const std::string& key, std::vector<figures::Setting> settings = {}) {
  return figures::evaluate(option.ledger, option.ledger.at(key), settings);
}

}  // namespace

TEST_CASE("A coin cell holds 2430 J and loses 24.3 J a year") {
  const Option option = with_battery(coin_cell());
  CHECK(value(option, "battery_energy") == Approx(2430).epsilon(1e-12));
  CHECK(value(option, "battery_self_discharge") * 365.25 * 86400 == Approx(24.3).epsilon(1e-3));
}

TEST_CASE("Battery life is energy by all that drains it") {
  study::Battery battery = coin_cell();
  battery.efficiency = range(0.9, "1");
  battery.other_power = range(0.02, "W");
  const Option option = with_battery(battery);
  const double lost_w = value(option, "battery_self_discharge");
  const double drain_w = value(option, "average_power") / 0.9 + 0.02 + lost_w;
  CHECK(value(option, "battery_life") == Approx(2430 / drain_w).epsilon(1e-12));
  const double standby_w = value(option, "standby_power") / 0.9 + lost_w;
  CHECK(value(option, "standby_loss_per_day") == Approx(standby_w * 86400 / 2430).epsilon(1e-12));
  const double without = value(option, "battery_life", {{"study.battery.other_power", 0.0}});
  CHECK(without > value(option, "battery_life"));
  CHECK(value(option, "battery_life", {{"study.battery.self_discharge", 0.5}}) <
        value(option, "battery_life"));
}

TEST_CASE("Energy and capacity with voltage say the same") {
  study::Battery by_energy = coin_cell();
  by_energy.capacity.reset();
  by_energy.voltage.reset();
  by_energy.energy = range(2430, "J");
  CHECK(value(with_battery(by_energy), "battery_life") ==
        Approx(value(with_battery(coin_cell()), "battery_life")).epsilon(1e-12));
}

TEST_CASE("Without a battery there are no figures of one") {
  const Option option = with_battery(std::nullopt);
  CHECK_FALSE(option.ledger.find("battery_life"));
  CHECK_FALSE(option.ledger.find("standby_loss_per_day"));
}

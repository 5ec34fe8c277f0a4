// Boot loaders stand where products in use are updated, and nowhere else.
#include "options/firmware/field_update.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

constexpr double hour_s = 3600;
constexpr double bits_per_byte = 8;
const std::string beside_controller = "ff-line+mcu-32b-mid:policy/pins";

study::Study study_of_split() {
  study::Study study = demo().study;
  study.only_parts = {"ff-line", "mcu-32b-mid"};
  return study;
}

double flash_bytes(const Option& option) {
  return value_of(option, "counts.flash") / bits_per_byte;
}

}  // namespace

TEST_CASE("A revision of its firmware costs a microcontroller a boot loader, in flash and in effort") {
  study::Study study = study_of_split();
  const Considered with = considered_with(study);
  study.revisions.clear();
  const Considered without = considered_with(study);
  const Option& updated = option_named(with, beside_controller);
  const Option& frozen = option_named(without, beside_controller);
  const parts::Effort& effort = demo().effort;
  CHECK(flash_bytes(updated) == Approx(flash_bytes(frozen) + effort.boot_loader_bytes.range.typical));
  const double hours = (value_of(updated, "effort") - value_of(frozen, "effort")) / hour_s;
  CHECK(hours == Approx(value_of(updated, "effort_update_path.mcu-32b-mid") / hour_s));
  CHECK(hours > effort.update_path_time.range.typical / hour_s);
  CHECK_FALSE(frozen.ledger.find("effort_update_path.mcu-32b-mid"));
}

TEST_CASE("A revision that touches other blocks needs no boot loader") {
  study::Study study = study_of_split();
  for (auto& revision : study.revisions) revision.touches = {"line"};
  const Considered considered = considered_with(study);
  CHECK_FALSE(option_named(considered, beside_controller).ledger.find("effort_update_path.mcu-32b-mid"));
}

TEST_CASE("Drivers, power management and production test belong to every chip that needs them") {
  const Considered considered = considered_with(study_of_split());
  const Option& option = option_named(considered, beside_controller);
  const parts::Effort& effort = demo().effort;
  CHECK(value_of(option, "effort_drivers.mcu-32b-mid") == Approx(effort.driver_time.range.typical));
  CHECK(value_of(option, "effort_power_management.mcu-32b-mid") ==
        Approx(effort.power_management_time.range.typical));
  CHECK(value_of(option, "effort_production_test") == Approx(effort.production_test_time.range.typical));
  CHECK_FALSE(option.ledger.find("effort_drivers.ff-line"));
}

// Boot loaders stand where products in use are updated, and nowhere else.
#include "options/firmware/field_update.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

constexpr double hour_s = 3600;
constexpr double bits_per_byte = 8;
const std::string beside_controller = "ff-line+mcu-32b-mid:policy/host";

study::Study study_of_split() {
  study::Study study = demo().study;
  study.only_parts = {"ff-line", "mcu-32b-mid"};
  return study;
}

double flash_bytes(const Option& option, const std::string& key) {
  return value_of(option, key) / bits_per_byte;
}

const parts::Microcontroller& microcontroller(const parts::Catalog& catalog, const std::string& id) {
  return *std::find_if(catalog.microcontrollers.begin(), catalog.microcontrollers.end(),
                       [&](const auto& one) { return one.part.id == id; });
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
  const double page = microcontroller(demo().catalog, "mcu-32b-mid").erase_page_bytes;
  REQUIRE(page == 2048);
  // check value of common practice: a boot loader of 1920 bytes [S], rounded up to the erase page.
  REQUIRE(effort.boot_loader_bytes.range.typical == 1920);
  CHECK(flash_bytes(frozen, "flash_needed") == flash_bytes(frozen, "counts.flash"));
  CHECK(flash_bytes(updated, "counts.flash") == flash_bytes(frozen, "counts.flash"));
  const double image = page * std::ceil(flash_bytes(updated, "counts.flash") / page);
  CHECK(flash_bytes(updated, "flash_needed") == Approx(2048 + image));
  CHECK(value_of(updated, "flash_use") > value_of(frozen, "flash_use"));
  const double hours = (value_of(updated, "effort") - value_of(frozen, "effort")) / hour_s;
  CHECK(hours == Approx(value_of(updated, "effort_update_path.mcu-32b-mid") / hour_s));
  CHECK(hours > effort.update_path_time.range.typical / hour_s);
  CHECK_FALSE(frozen.ledger.find("effort_update_path.mcu-32b-mid"));
}

// check value of common practice [S]: round up to the erase page; a second slot doubles the image.
TEST_CASE("Boot loader and images stand in whole erase pages, each on pages of its own") {
  CHECK(updatable(5000.0, 1920.0, 1024.0, 1) == 7168);
  CHECK(updatable(5000.0, 1920.0, 1024.0, 2) == 12288);
  CHECK(updatable(5120.0, 2048.0, 1024.0, 1) == 7168);
  CHECK(updatable(5121.0, 2049.0, 1024.0, 1) == 3072 + 6144);
  CHECK(updatable(5000.0, 1920.0, 1.0, 1) == 6920);
}

TEST_CASE("A second image doubles what firmware takes, where the product updates itself") {
  study::Study study = study_of_split();
  const Considered once = considered_with(study);
  study.has_second_image = true;
  const Considered twice = considered_with(study);
  study.revisions.clear();
  const Considered frozen = considered_with(study);
  const double single = flash_bytes(option_named(once, beside_controller), "flash_needed");
  const double both = flash_bytes(option_named(twice, beside_controller), "flash_needed");
  CHECK(both - 2048 == Approx(2 * (single - 2048)));
  const Option& never = option_named(frozen, beside_controller);
  CHECK(flash_bytes(never, "flash_needed") == flash_bytes(never, "counts.flash"));
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

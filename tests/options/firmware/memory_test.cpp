// What firmware takes of memories: one formula for search and ledger, and no split that doesn't fit.
#include "options/firmware/memory.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

const std::string pair = "pl-flash-d+mcu-32b-mid";

// The demo with other memories of its mid-sized microcontroller.
struct Sized {
  parts::Catalog catalog = demo().catalog;
  study::Study study = demo().study;

  Sized() { study.only_parts = {"pl-flash-d", "mcu-32b-mid"}; }
  parts::Microcontroller& part() {
    return *std::find_if(catalog.microcontrollers.begin(), catalog.microcontrollers.end(),
                         [](const auto& one) { return one.part.id == "mcu-32b-mid"; });
  }
  Considered considered() {
    study::name_inputs(study);
    return consider({catalog, demo().effort, study, demo().library}, 1);
  }
};

const Option& split_in(const Considered& considered) {
  const auto& all = considered.options;
  const auto found =
      std::find_if(all.begin(), all.end(), [](const Option& one) { return one.id.starts_with(pair); });
  if (found == all.end()) FAIL("no split of " << pair);
  return *found;
}

double flash_bytes(const Option& option, const std::string& key) {
  return value_of(option, key) / 8;
}

}  // namespace

TEST_CASE("Memory that the search finds too small is that by which the ledger exceeds it") {
  Sized sized;
  sized.study.has_second_image = true;
  const Considered fitting = sized.considered();
  const Option& option = option_named(fitting, "mcu-32b-mid");
  const double needed = flash_bytes(option, "flash_needed");
  const double reserve = sized.study.capacity_reserve.range.typical;
  CHECK(value_of(option, "flash_use") == Approx(needed / (sized.part().flash_bytes * (1 - reserve))));
  // A little less than what the ledger says is needed.
  sized.part().flash_bytes = (needed - 1) / (1 - reserve);
  const Considered full = sized.considered();
  const auto rejected = std::find_if(full.rejections.begin(), full.rejections.end(),
                                     [](const Rejection& one) { return one.id == "mcu-32b-mid"; });
  REQUIRE(rejected != full.rejections.end());
  CHECK(rejected->needed == Approx(needed));
  CHECK(rejected->available == Approx(needed - 1));
  CHECK(rejected->reason.find("boot loader and two images of firmware in pages of 2048 bytes take") !=
        std::string::npos);
}

TEST_CASE("The search of splits finds an assignment whose firmware fits") {
  Sized sized;
  const Considered roomy = sized.considered();
  const double needed = flash_bytes(split_in(roomy), "flash_needed");
  const double reserve = sized.study.capacity_reserve.range.typical;
  sized.part().flash_bytes = (needed - 1) / (1 - reserve);
  const Considered tight = sized.considered();
  const Option& option = split_in(tight);
  CHECK(option.id != split_in(roomy).id);
  CHECK(flash_bytes(option, "flash_needed") < needed);
  CHECK(value_of(option, "flash_use") <= 1);
  // With the image kept twice, less firmware fits.
  sized.study.has_second_image = true;
  const Considered twice = sized.considered();
  CHECK(flash_bytes(split_in(twice), "counts.flash") <= flash_bytes(option, "counts.flash"));
  CHECK(value_of(split_in(twice), "flash_use") <= 1);
}

// One reason with its number for each option that can't be.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <filesystem>
#include <set>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

// One of each size and product class, so that the test stays short.
constexpr const char* looked_at[] = {"audio-mixer-display-lanes", "desk-fan",
                                     "handheld-printer-spare-processor", "bike-computer-lends-power",
                                     "soil-sensor-standby"};

}  // namespace

TEST_CASE("Every rejection has one reason with what is needed and what is there") {
  std::set<std::string> units;
  for (const std::string name : looked_at) {
    const auto file = std::filesystem::path(PORTWEIGH_STUDIES_DIR) / (name + ".toml");
    const study::Study study = study::read_study(file, PORTWEIGH_CATALOG_DIR);
    const Considered considered = consider({demo().catalog, demo().effort, study, demo().library}, 2);
    CHECK_FALSE(considered.options.empty());
    for (const Option& option : considered.options) {
      INFO(study.name << ", " << option.id);
      std::set<std::string> engines;
      for (const auto& [block, engine] : option.assignment) engines.insert(engine);
      if (option.kind == OptionKind::split) CHECK(engines.size() > 1);
    }
    for (const Rejection& rejection : considered.rejections) {
      INFO(study.name << ", " << rejection.id << ": " << rejection.reason);
      CHECK(std::any_of(rejection.reason.begin(), rejection.reason.end(),
                        [](unsigned char c) { return std::isdigit(c) != 0; }));
      CHECK(rejection.needed > rejection.available);
      CHECK(rejection.available >= 0);
      units.insert(rejection.unit);
    }
  }
  // Counts, clocks, memory and sizes all occur.
  CHECK(units.size() >= 4);
}

TEST_CASE("A board of too few layers is a reason, with both numbers") {
  study::Study study = demo().study;
  study.assembly.allows_array = true;
  study.assembly.smallest_pitch.value_si = 0.3e-3;
  study.assembly.layers = 2;
  study.only_parts = {"pl-sram-d"};
  const Considered considered = consider({demo().catalog, demo().effort, study, demo().library}, 1);
  const auto& all = considered.rejections;
  const auto whole =
      std::find_if(all.begin(), all.end(), [](const Rejection& one) { return one.id == "pl-sram-d"; });
  // 23 pins leave 9 x 9 leads at 0.4 mm, 63 of the 81 usable, by the outer ring: 32 x 63/81 = 24.9.
  CHECK(whole == all.end());
  study.extra_pins += 10;
  const Considered more = consider({demo().catalog, demo().effort, study, demo().library}, 1);
  const auto found = std::find_if(more.options.begin(), more.options.end(),
                                  [](const Option& one) { return one.id == "pl-sram-d"; });
  REQUIRE(found != more.options.end());
  CHECK(found->bill.front().what != "bga-81");
  study.assembly.layers = 1;
  const Considered one = consider({demo().catalog, demo().effort, study, demo().library}, 1);
  REQUIRE_FALSE(one.rejections.empty());
  CHECK(one.rejections.front().reason.find("layers for its pins to leave it, the product's has 1") !=
        std::string::npos);
  CHECK(one.rejections.front().needed == 2);
  CHECK(one.rejections.front().available == 1);
}

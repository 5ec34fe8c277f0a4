#include "options/fabric/block_activity.hpp"

#include <catch2/catch.hpp>

#include "blocks/registry.hpp"
#include "demo_fixture.hpp"

using namespace portweigh;

TEST_CASE(
    "The toggles of every block of the demo are within two percent of those over twenty thousand clocks") {
  const study::Study& study = tests::demo().study;
  double short_in_all = 0;
  double long_in_all = 0;
  for (const study::FunctionBlock& block : study.function.blocks) {
    if (!block.kind->network) continue;
    const logic::Fitted fitted = logic::fit(block.kind->network(block.settings), {});
    for (const auto state : {blocks::TrafficState::active, blocks::TrafficState::idle}) {
      const double toggles =
          options::block_activity(*block.kind, block.settings, fitted, state).total_toggles();
      const double expected =
          options::block_activity_over(*block.kind, block.settings, fitted, state, 2048, 20480)
              .total_toggles();
      INFO(block.name << (state == blocks::TrafficState::active ? " active" : " idle"));
      CHECK(toggles == Approx(expected).epsilon(0.02).margin(0.02));
      short_in_all += toggles;
      long_in_all += expected;
    }
  }
  CHECK(short_in_all > 0);
  CHECK(short_in_all == Approx(long_in_all).epsilon(0.01));
}

TEST_CASE("Activity is the same each time, and more with traffic than without") {
  const blocks::Kind& kind = blocks::find_kind("crc");
  const blocks::Settings settings = blocks::Settings::standard(kind.settings);
  const logic::Fitted fitted = logic::fit(kind.network(settings), {});
  const double busy =
      options::block_activity(kind, settings, fitted, blocks::TrafficState::active).total_toggles();
  CHECK(busy ==
        options::block_activity(kind, settings, fitted, blocks::TrafficState::active).total_toggles());
  CHECK(busy > options::block_activity(kind, settings, fitted, blocks::TrafficState::idle).total_toggles());
}

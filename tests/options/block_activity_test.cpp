#include "options/block_activity.hpp"

#include <catch2/catch.hpp>

#include "blocks/registry.hpp"
#include "demo_fixture.hpp"

using namespace portweigh;

TEST_CASE("The counted clocks give the toggles of four times as many within two percent") {
  const study::Study& study = tests::demo().study;
  double few_in_all = 0;
  double many_in_all = 0;
  for (const study::FunctionBlock& block : study.function.blocks) {
    if (!block.kind->network) continue;
    const logic::Fitted fitted = logic::fit(block.kind->network(block.settings), {});
    for (const auto state : {blocks::TrafficState::active, blocks::TrafficState::idle}) {
      const auto toggles = [&](unsigned clocks) {
        return options::block_activity(*block.kind, block.settings, fitted, state, clocks).total_toggles();
      };
      const double few = toggles(options::counted_clocks);
      const double many = toggles(4 * options::counted_clocks);
      INFO(block.name << (state == blocks::TrafficState::active ? " active" : " idle"));
      CHECK(few == Approx(many).epsilon(0.02).margin(0.02));
      few_in_all += few;
      many_in_all += many;
    }
  }
  CHECK(few_in_all > 0);
  CHECK(few_in_all == Approx(many_in_all).epsilon(0.01));
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

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

namespace {

// The same traffic with its events ten times as far apart.
blocks::Drive ten_times_slower(const blocks::Drive& drive, std::uint64_t spacing) {
  return [=](logic::Simulator& simulator, std::uint64_t clock) {
    const std::uint64_t within = clock % (10 * spacing);
    if (within < spacing) drive(simulator, clock / (10 * spacing) * spacing + within);
  };
}

}  // namespace

// Blocks that take an event in a clock; at the pace of their traffic, and at a tenth of it.
TEST_CASE(
    "An event costs the same at any pace: a clock costs what a quiet one does and its share of an event") {
  struct Case {
    std::string kind;
    std::vector<std::pair<std::string, std::string>> settings;
    std::uint64_t spacing;  // clocks between events in the traffic
  };
  const std::vector<Case> cases = {{"crc", {{"width", "32"}, {"bits_per_clock", "4"}}, 4},
                                   {"symbol-code", {{"direction", "decode"}}, 4},
                                   {"symbol-code", {{"direction", "encode"}}, 4},
                                   {"scrambler", {}, 4},
                                   {"register-bank", {}, 4}};
  for (const Case& example : cases) {
    blocks::Kind kind = blocks::find_kind(example.kind);
    blocks::Settings settings = blocks::Settings::standard(kind.settings);
    for (const auto& [name, value] : example.settings) settings.set(name, value);
    INFO(example.kind << " " << settings.to_string());
    const logic::Fitted fitted = logic::fit(kind.network(settings), {});
    const auto toggles = [&](blocks::TrafficState state, unsigned slower = 1) {
      return options::block_activity_over(kind, settings, fitted, state, 2048 * slower, 16384 * slower)
          .total_toggles();
    };
    const double quiet = toggles(blocks::TrafficState::idle);
    const double event = kind.pace(settings).clocks * (toggles(blocks::TrafficState::active) - quiet);
    REQUIRE(event > 0);
    kind.traffic = [&, plain = kind.traffic](const blocks::Settings& chosen, blocks::TrafficState state,
                                             std::uint64_t seed) {
      return ten_times_slower(plain(chosen, state, seed), example.spacing);
    };
    CHECK(toggles(blocks::TrafficState::active, 10) ==
          Approx(quiet + event / (10 * kind.pace(settings).clocks)).epsilon(0.05));
  }
}

// Every kind of block runs with its defaults: network, traffic, each firmware method, names.
#include "blocks/registry.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>
#include <set>
#include <string>

#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::uint64_t clocks_driven = 300;
constexpr std::uint64_t settling_clocks = 20;

void check_network(const Kind& kind, const Settings& settings) {
  const auto network = kind.network(settings);
  CHECK_NOTHROW(network.check_complete());
  CHECK_FALSE(network.outputs().empty());
  if (!kind.traffic) return;
  for (const auto state : {TrafficState::idle, TrafficState::active}) {
    logic::Simulator simulator(network);
    const Drive drive = kind.traffic(settings, state, 1);
    for (std::uint64_t clock = 0; clock < clocks_driven; ++clock) {
      drive(simulator, clock);
      simulator.clock();
    }
  }
}

void check_method(const Kind& kind, const Settings& settings, const Method& method) {
  const FirmwareRun run = kind.run(settings, method.name);
  CHECK(run.events > 0);
  CHECK(run.counts.events == run.events);
  CHECK(run.paths.front().events > 0);  // more than one where an activation serves several events
  CHECK(run.paths.front().events < run.events);
  CHECK(std::any_of(run.counts.statements.begin(), run.counts.statements.end(),
                    [](std::uint64_t times) { return times > 0; }));
}

}  // namespace

TEST_CASE("every kind runs with its defaults") {
  CHECK_FALSE(kinds().empty());
  for (const Kind& kind : kinds()) {
    DYNAMIC_SECTION(kind.name) {
      const auto settings = Settings::standard(kind.settings);
      if (kind.network) check_network(kind, settings);
      CHECK(kind.methods.empty() == !kind.run);
      CHECK(kind.methods.empty() == !kind.event);
      for (const Method& method : kind.offered_methods(settings)) {
        CAPTURE(method.name);
        check_method(kind, settings, method);
      }
      if (kind.pins) CHECK_NOTHROW(kind.pins(settings));
      if (kind.analogue) CHECK_NOTHROW(kind.analogue(settings));
      if (kind.given) CHECK_NOTHROW(kind.given(settings));
    }
  }
}

TEST_CASE("two traffic generators of one seed drive a network alike") {
  for (const Kind& kind : kinds()) {
    if (!kind.network || !kind.traffic) continue;
    DYNAMIC_SECTION(kind.name) {
      const auto settings = Settings::standard(kind.settings);
      const auto network = kind.network(settings);
      logic::Simulator first(network);
      logic::Simulator second(network);
      const Drive drive_first = kind.traffic(settings, TrafficState::active, 7);
      const Drive drive_second = kind.traffic(settings, TrafficState::active, 7);
      for (std::uint64_t clock = 0; clock < clocks_driven; ++clock) {
        drive_first(first, clock);
        drive_second(second, clock);
        first.clock();
        second.clock();
        for (const auto& output : network.outputs()) {
          REQUIRE(first.lanes(output.literal) == second.lanes(output.literal));
        }
      }
    }
  }
}

TEST_CASE("idle traffic toggles far less than active traffic") {
  for (const Kind& kind : kinds()) {
    if (!kind.network || !kind.traffic) continue;
    DYNAMIC_SECTION(kind.name) {
      const auto settings = Settings::standard(kind.settings);
      const auto network = kind.network(settings);
      const auto count_toggles = [&](TrafficState state) {
        logic::Simulator simulator(network);
        const Drive drive = kind.traffic(settings, state, 3);
        std::uint64_t toggles = 0;
        for (std::uint64_t clock = 0; clock < clocks_driven; ++clock) {
          if (clock == settling_clocks) simulator.reset_toggles();
          drive(simulator, clock);
          simulator.clock();
        }
        for (std::uint32_t node = 0; node < network.size(); ++node) toggles += simulator.toggles(node);
        return toggles;
      };
      const std::uint64_t active = count_toggles(TrafficState::active);
      CHECK(active > 0);
      CHECK(4 * count_toggles(TrafficState::idle) < active);
    }
  }
}

TEST_CASE("names are unique and written alike") {
  const std::regex kebab("[a-z][a-z0-9]*(-[a-z0-9]+)*");
  const std::regex snake("[a-z][a-z0-9]*(_[a-z0-9]+)*");
  std::set<std::string> names;
  for (const Kind& kind : kinds()) {
    CAPTURE(kind.name);
    CHECK(names.insert(kind.name).second);
    CHECK(std::regex_match(kind.name, kebab));
    CHECK_FALSE(kind.summary.empty());
    std::set<std::string> settings;
    for (const Setting& setting : kind.settings) {
      CAPTURE(setting.name);
      CHECK(settings.insert(setting.name).second);
      CHECK(std::regex_match(setting.name, snake));
      CHECK_FALSE(setting.meaning.empty());
    }
    std::set<std::string> methods;
    for (const Method& method : kind.methods) {
      CHECK(methods.insert(method.name).second);
      CHECK(std::regex_match(method.name, kebab));
    }
    CHECK(&find_kind(kind.name) == &kind);
  }
}

TEST_CASE("a mistyped kind names the nearest") {
  CHECK_THROWS_AS(find_kind("no-such-block"), SettingError);
  for (const Kind& kind : kinds()) {
    const std::string mistyped = kind.name + "x";
    try {
      find_kind(mistyped);
      FAIL("accepted " << mistyped);
    } catch (const SettingError& error) {
      CHECK(std::string(error.what()).find("\"" + kind.name + "\"") != std::string::npos);
    }
  }
}

TEST_CASE("kinds with several methods let one be chosen") {
  for (const Kind& kind : kinds()) {
    if (kind.methods.size() < 2) continue;
    INFO(kind.name);
    auto settings = Settings::standard(kind.settings);
    CHECK_NOTHROW(check_method(kind, settings));
    const auto offered = kind.offered_methods(settings);
    for (const Method& method : kind.methods) {
      if (kind.name == "crc" && method.name == "crc-unit") continue;  // the part's, not a way of taking bytes
      CAPTURE(method.name);
      REQUIRE_NOTHROW(settings.set("method", method.name));
      const bool is_offered = std::any_of(offered.begin(), offered.end(),
                                          [&](const Method& one) { return one.name == method.name; });
      if (is_offered) CHECK_NOTHROW(check_method(kind, settings));
      if (!is_offered) CHECK_THROWS_AS(check_method(kind, settings), SettingError);
    }
  }
  const Kind& line_code = find_kind("line-code");
  auto settings = Settings::standard(line_code.settings);
  settings.set("direction", "encode");
  settings.set("method", "per-edge");
  CHECK_THROWS_WITH(check_method(line_code, settings), Catch::Contains("timer-compare"));
}

}  // namespace portweigh::blocks

// The kind as a whole: every bus, role and direction has a network that its traffic moves, pins, and
// routines.
#include "blocks/host_bus/host_interface.hpp"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

namespace portweigh::blocks {
namespace {

struct Choice {
  std::string bus, role, direction;
  unsigned pins;
  std::string peripheral;
  // An output that active traffic must move and idle traffic must not.
  std::string output;
};

const std::vector<Choice> choices{
    {"i2c", "target", "both", 2, "i2c-target", "write"},
    {"i2c", "controller", "both", 2, "i2c-controller", "interrupt"},
    {"spi", "target", "both", 4, "spi-target", "received_valid"},
    {"spi", "controller", "both", 4, "spi-controller", "done"},
    {"uart", "target", "encode", 1, "uart", "txd"},
    {"uart", "target", "decode", 1, "uart", "received_valid"},
    {"uart", "controller", "both", 2, "uart", "received_valid"},
};

Settings settings_of(const Choice& choice) {
  auto settings = Settings::standard(host_interface_kind().settings);
  settings.set("bus", choice.bus);
  settings.set("role", choice.role);
  settings.set("direction", choice.direction);
  return settings;
}

std::uint64_t toggles_of(const Choice& choice, TrafficState state, std::uint64_t clocks) {
  const Kind kind = host_interface_kind();
  const auto settings = settings_of(choice);
  const auto network = kind.network(settings);
  logic::Simulator simulator(network);
  const Drive drive = kind.traffic(settings, state, 3);
  for (std::uint64_t clock = 0; clock < clocks; ++clock) {
    if (clock == 20) simulator.reset_toggles();
    drive(simulator, clock);
    simulator.clock();
  }
  for (const auto& output : network.outputs()) {
    if (output.name == choice.output) {
      return simulator.toggles(output.literal.node()) / logic::Simulator::streams;
    }
  }
  FAIL("no output " << choice.output);
  return 0;
}

}  // namespace

TEST_CASE("active traffic moves a host interface and idle traffic leaves it alone") {
  for (const Choice& choice : choices) {
    CAPTURE(choice.bus, choice.role, choice.direction);
    CHECK(toggles_of(choice, TrafficState::idle, 3000) == 0);
    CHECK(toggles_of(choice, TrafficState::active, 6000) >= 6);
  }
}

TEST_CASE("pins and peripherals of a host interface") {
  const Kind kind = host_interface_kind();
  for (const Choice& choice : choices) {
    CAPTURE(choice.bus, choice.role, choice.direction);
    const auto settings = settings_of(choice);
    CHECK(kind.pins(settings).total() == choice.pins);
    REQUIRE(kind.methods.size() == 2);
    CHECK(kind.needed_peripherals(settings, kind.methods[0]) == std::vector<std::string>{choice.peripheral});
    CHECK(kind.needed_peripherals(settings, kind.methods[1]).empty());
  }
}

TEST_CASE("every routine of a host interface runs, and by hand takes longer than with a peripheral") {
  const Kind kind = host_interface_kind();
  const auto statements_per_event = [](const FirmwareRun& run) {
    std::uint64_t sum = 0;
    for (const auto count : run.counts.statements) sum += count;
    return static_cast<double>(sum) / static_cast<double>(run.events);
  };
  for (const Choice& choice : choices) {
    CAPTURE(choice.bus, choice.role, choice.direction);
    const auto interrupt = kind.run(settings_of(choice), "interrupt");
    const auto by_hand = kind.run(settings_of(choice), "bit-banged");
    CHECK(interrupt.paths.front().events == 1);
    CHECK(statements_per_event(by_hand) > 3 * statements_per_event(interrupt));
  }
}

}  // namespace portweigh::blocks

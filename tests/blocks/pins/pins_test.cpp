// Debounced pins against a model that counts ticks line by line, and network against routine.
#include "blocks/pins/pins.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned clocks_per_tick = 4;

// Written for the test alone.
class LineModel {
 public:
  explicit LineModel(std::uint64_t limit) : limit_(limit) {}
  // Returns whether the value changed at this tick.
  bool tick(bool pin) {
    if (pin == value_) {
      run_ = 0;
      return false;
    }
    if (++run_ < limit_) return false;
    run_ = 0;
    value_ = pin;
    return true;
  }
  bool value() const { return value_; }

 private:
  std::uint64_t limit_;
  std::uint64_t run_ = 0;
  bool value_ = false;
};

// One tick of the network with pins that stand still around it.
void clock_tick(logic::Simulator& simulator, std::uint64_t pins) {
  simulator.set("tick", 0);
  simulator.set("pin_in", pins);
  simulator.clock(clocks_per_tick - 1);
  simulator.set("tick", 1);
  simulator.clock();
  simulator.set("tick", 0);
}

// Pins that mostly stay and now and then bounce.
std::uint64_t moved(std::uint64_t pins, std::uint64_t mask, std::mt19937_64& random) {
  return (pins ^ (random() & random() & random() & (random() % 4 == 0 ? mask : 0))) & mask;
}

}  // namespace

TEST_CASE("network, routine and model see the same values and changes") {
  for (const PinsShape shape : {PinsShape{1, 1}, {8, 2}, {8, 4}, {20, 3}, {32, 1}}) {
    CAPTURE(shape.lines, shape.debounce_bits);
    const auto network = pins_network(shape);
    const auto routine = pins_routine(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    firmware::Machine machine(routine);
    std::vector<LineModel> models(shape.lines, LineModel(std::uint64_t{1} << shape.debounce_bits));
    std::mt19937_64 random(shape.lines);
    const std::uint64_t mask = (std::uint64_t{1} << shape.lines) - 1;
    std::uint64_t pins = 0;
    std::uint64_t changes = 0;
    machine.on_read("pin_in", [&] { return static_cast<std::uint32_t>(pins); });
    for (unsigned tick = 0; tick < 1500; ++tick) {
      pins = moved(pins, mask, random);
      clock_tick(simulator, pins);
      const std::uint64_t just_changed = machine.run();
      std::uint64_t value = 0;
      std::uint64_t expected_change = 0;
      for (unsigned i = 0; i < shape.lines; ++i) {
        if (models[i].tick((pins >> i & 1U) != 0)) expected_change |= std::uint64_t{1} << i;
        value |= std::uint64_t{models[i].value()} << i;
      }
      changes |= expected_change;
      REQUIRE(just_changed == expected_change);
      REQUIRE(machine.get("value") == value);
      REQUIRE(machine.get("changed") == changes);
      REQUIRE(simulator.value("value") == value);
      REQUIRE(simulator.value("changed") == changes);
      if (tick % 100 == 99) {
        simulator.set("clear_changed", 1);
        simulator.clock();
        simulator.set("clear_changed", 0);
        machine.set("changed", 0);
        changes = 0;
      }
    }
    CHECK(simulator.value("value") == machine.get("value"));
  }
}

TEST_CASE("without debouncing a pin is seen after three clocks, in firmware at the next tick") {
  const auto network = pins_network({4, 0});
  logic::Simulator simulator(network);
  simulator.set("pin_in", 0xA);
  simulator.clock(2);
  CHECK(simulator.value("value") == 0);
  simulator.clock();
  CHECK(simulator.value("value") == 0xA);
  CHECK(simulator.value("changed") == 0xA);
  const auto routine = pins_routine({4, 0});
  firmware::Machine machine(routine);
  machine.on_read("pin_in", [] { return 0xAU; });
  CHECK(machine.run() == 0xA);
  CHECK(machine.run() == 0);
}

TEST_CASE("a pulse shorter than the debouncing leaves no trace") {
  const auto network = pins_network({2, 3});
  logic::Simulator simulator(network);
  for (unsigned tick = 0; tick < 7; ++tick) clock_tick(simulator, 1);
  for (unsigned tick = 0; tick < 4; ++tick) clock_tick(simulator, 0);
  CHECK(simulator.value("changed") == 0);
  for (unsigned tick = 0; tick < 8; ++tick) clock_tick(simulator, 1);
  CHECK(simulator.value("value") == 1);
}

TEST_CASE("outputs and directions are written apart and reset to inputs") {
  const auto network = pins_network({8, 1});
  logic::Simulator simulator(network);
  simulator.set("data", 0x3C);
  simulator.set("write_output", 1);
  simulator.clock();
  simulator.set("write_output", 0);
  simulator.set("data", 0x0F);
  simulator.set("write_direction", 1);
  simulator.clock();
  simulator.set("write_direction", 0);
  CHECK(simulator.value("pin_out") == 0x3C);
  CHECK(simulator.value("pin_enable") == 0x0F);
  simulator.set("reset", 1);
  simulator.clock();
  CHECK(simulator.value("pin_enable") == 0);
}

}  // namespace portweigh::blocks

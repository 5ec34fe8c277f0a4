// Pulse-width modulation against the definition, and network against routine.
#include "blocks/pins/pulse_width.hpp"

#include <catch2/catch.hpp>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

void write_duty(logic::Simulator& simulator, unsigned channel, std::uint64_t duty) {
  simulator.set("write", 1);
  simulator.set("channel", channel);
  simulator.set("duty", duty);
}

}  // namespace

TEST_CASE("a channel is high for its duty value in every period, whole pulses only") {
  for (const PulseWidthShape shape : {PulseWidthShape{1, 1}, {3, 4}, {4, 8}, {5, 10}}) {
    CAPTURE(shape.channels, shape.bits);
    const auto network = pulse_width_network(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    std::mt19937_64 random(shape.bits);
    const std::uint64_t period = std::uint64_t{1} << shape.bits;
    std::vector<std::uint64_t> written(shape.channels, 0);
    std::vector<std::uint64_t> in_effect(shape.channels, 0);
    // High clocks of the next period; unknown after a value written in a period's last clock.
    std::optional<std::vector<std::uint64_t>> expected;
    simulator.set("enable", 1);
    for (unsigned turn = 0; turn < 12; ++turn) {
      std::vector<std::uint64_t> high(shape.channels, 0);
      std::vector<unsigned> edges(shape.channels, 0);
      const std::uint64_t write_at = random() % period;
      for (std::uint64_t count = 0; count < period; ++count) {
        simulator.set("write", 0);
        if (count == write_at) {
          const auto channel = static_cast<unsigned>(random() % shape.channels);
          written[channel] = random() % period;
          write_duty(simulator, channel, written[channel]);
        }
        if (count + 1 == period && count != write_at) in_effect = written;
        std::vector<bool> before;
        for (unsigned i = 0; i < shape.channels; ++i)
          before.push_back((simulator.value("pwm") >> i & 1U) != 0);
        simulator.clock();
        for (unsigned i = 0; i < shape.channels; ++i) {
          const bool is_high = (simulator.value("pwm") >> i & 1U) != 0;
          if (is_high) ++high[i];
          if (is_high != before[i]) ++edges[i];
        }
        REQUIRE(simulator.value("period_start") == (count + 1 == period ? 1U : 0U));
      }
      for (unsigned i = 0; i < shape.channels; ++i) CHECK(edges[i] <= 2);
      if (expected) CHECK(high == *expected);
      expected = write_at + 1 == period ? std::nullopt : std::optional(in_effect);
    }
  }
}

TEST_CASE("the counter stands and the outputs hold while not enabled") {
  const auto network = pulse_width_network({2, 4});
  logic::Simulator simulator(network);
  simulator.set("enable", 1);
  write_duty(simulator, 1, 8);
  simulator.clock(20);
  const std::uint64_t held = simulator.value("pwm");
  CHECK(held == 2);
  simulator.set("enable", 0);
  for (unsigned i = 0; i < 40; ++i) {
    simulator.clock();
    REQUIRE(simulator.value("pwm") == held);
  }
}

TEST_CASE("network and routine step alike") {
  for (const PulseWidthShape shape : {PulseWidthShape{3, 5}, {4, 8}, {9, 10}}) {
    CAPTURE(shape.channels, shape.bits);
    const auto network = pulse_width_network(shape);
    const auto routine = pulse_width_step_routine(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    firmware::Machine machine(routine);
    std::mt19937_64 random(2);
    std::uint64_t level = 0;
    machine.on_write("level", [&](std::uint32_t value) { level = value; });
    simulator.set("enable", 1);
    const std::uint64_t period = std::uint64_t{1} << shape.bits;
    for (std::uint64_t tick = 0; tick < 5 * period; ++tick) {
      // The network takes a value one clock after it is written: not in the last clock of a period.
      const bool is_written = random() % 8 == 0 && (tick + 1) % period != 0;
      simulator.set("write", 0);
      if (is_written) {
        const auto channel = static_cast<unsigned>(random() % shape.channels);
        const auto duty = static_cast<std::uint32_t>(random() % period);
        write_duty(simulator, channel, duty);
        machine.set_element("duty", channel, duty);
      }
      simulator.clock();
      machine.run();
      REQUIRE(simulator.value("pwm") == level);
    }
  }
}

TEST_CASE("compare outputs get changed values once") {
  const auto routine = pulse_width_update_routine({3, 8});
  firmware::Machine machine(routine);
  std::vector<std::pair<unsigned, std::uint32_t>> writes;
  for (unsigned i = 0; i < 3; ++i) {
    machine.on_write("compare" + std::to_string(i),
                     [&writes, i](std::uint32_t value) { writes.emplace_back(i, value); });
    machine.set_element("duty", i, 10 * i + 5);
  }
  machine.set("changed", 5);
  machine.run();
  machine.run();
  CHECK(writes == std::vector<std::pair<unsigned, std::uint32_t>>{{0, 5}, {2, 25}});
}

}  // namespace portweigh::blocks

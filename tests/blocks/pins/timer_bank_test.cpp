// The timer bank against a plain model, and network against routine on the same starts and stops.
#include "blocks/pins/timer_bank.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

// Written for the test alone: what each timer has left and whether its flag is up.
struct Model {
  std::vector<std::uint64_t> left;
  std::vector<bool> flag;

  explicit Model(unsigned timers) : left(timers, 0), flag(timers, false) {}

  void clock(bool is_tick, std::uint64_t start, std::uint64_t stop, std::uint64_t value) {
    for (std::size_t i = 0; i < left.size(); ++i) {
      if ((start >> i & 1U) != 0) {
        left[i] = value;
        flag[i] = false;
      } else if ((stop >> i & 1U) != 0) {
        left[i] = 0;
        flag[i] = false;
      } else if (is_tick && left[i] > 0 && --left[i] == 0) {
        flag[i] = true;
      }
    }
  }
  std::uint64_t flags() const {
    std::uint64_t mask = 0;
    for (std::size_t i = 0; i < flag.size(); ++i) mask |= std::uint64_t{flag[i]} << i;
    return mask;
  }
  std::uint64_t running() const {
    std::uint64_t mask = 0;
    for (std::size_t i = 0; i < left.size(); ++i) mask |= std::uint64_t{left[i] > 0} << i;
    return mask;
  }
};

std::uint64_t rare_mask(std::mt19937_64& random, unsigned bits) {
  return random() & random() & random() & random() & ((std::uint64_t{1} << bits) - 1);
}

}  // namespace

TEST_CASE("timers without a prescaler follow the model in every stream") {
  constexpr std::array<unsigned, 4> streams{0, 1, 31, 63};
  for (const TimerBankShape shape : {TimerBankShape{1, 1, 0}, {3, 5, 0}, {8, 16, 0}, {32, 32, 0}}) {
    CAPTURE(shape.timers, shape.bits);
    const auto network = timer_bank_network(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    std::vector<Model> models(streams.size(), Model(shape.timers));
    std::mt19937_64 random(shape.bits);
    const std::uint64_t largest = std::min<std::uint64_t>(40, (std::uint64_t{1} << shape.bits) - 1);
    for (unsigned clock = 0; clock < 600; ++clock) {
      for (std::size_t i = 0; i < streams.size(); ++i) {
        const bool is_tick = random() % 4 != 0;
        const std::uint64_t start = rare_mask(random, shape.timers);
        const std::uint64_t stop = rare_mask(random, shape.timers);
        const std::uint64_t value = 1 + random() % largest;
        simulator.set("enable", streams[i], is_tick ? 1 : 0);
        simulator.set("start", streams[i], start);
        simulator.set("stop", streams[i], stop);
        simulator.set("load_value", streams[i], value);
        models[i].clock(is_tick, start, stop, value);
      }
      simulator.clock();
      for (std::size_t i = 0; i < streams.size(); ++i) {
        REQUIRE(simulator.value("expired", streams[i]) == models[i].flags());
        REQUIRE(simulator.value("running", streams[i]) == models[i].running());
      }
    }
  }
}

TEST_CASE("a value of n lasts n periods of the prescaler") {
  for (const unsigned prescaler_bits : {1U, 4U}) {
    const auto network = timer_bank_network({2, 8, prescaler_bits});
    logic::Simulator simulator(network);
    simulator.set("reset", 1);
    simulator.clock();
    simulator.set("reset", 0);
    simulator.set("enable", 1);
    simulator.set("start", 2);
    simulator.set("load_value", 5);
    simulator.clock();
    simulator.set("start", 0);
    unsigned clocks = 1;
    while (simulator.value("expired") == 0 && clocks < 1000) {
      simulator.clock();
      ++clocks;
    }
    // One more clock: the tick is registered.
    CHECK(clocks == (5U << prescaler_bits) + 1);
    CHECK(simulator.value("expired") == 2);
    CHECK(simulator.value("running") == 0);
  }
}

TEST_CASE("reset stops every timer and lowers every flag") {
  const auto network = timer_bank_network({4, 4, 0});
  logic::Simulator simulator(network);
  simulator.set("enable", 1);
  simulator.set("start", 0xF);
  simulator.set("load_value", 3);
  simulator.clock();
  simulator.set("start", 0);
  CHECK(simulator.value("running") == 0xF);
  simulator.set("reset", 1);
  simulator.clock();
  CHECK(simulator.value("running") == 0);
  CHECK(simulator.value("expired") == 0);
}

TEST_CASE("network and routine expire the same timers at the same ticks") {
  for (const TimerBankShape shape : {TimerBankShape{5, 8, 0}, {8, 16, 0}, {20, 32, 0}}) {
    CAPTURE(shape.timers, shape.bits);
    const auto network = timer_bank_network(shape);
    const auto routine = timer_bank_routine(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    firmware::Machine machine(routine);
    std::mt19937_64 random(9);
    simulator.set("enable", 1);
    for (unsigned tick = 0; tick < 500; ++tick) {
      const std::uint64_t start = rare_mask(random, shape.timers);
      const std::uint64_t stop = rare_mask(random, shape.timers) & ~start;
      const auto value = static_cast<std::uint32_t>(1 + random() % 50);
      const std::uint64_t before = simulator.value("expired");
      simulator.set("start", start);
      simulator.set("stop", stop);
      simulator.set("load_value", value);
      simulator.clock();
      // Both stop before the tick; firmware writes the started ones after it, so that none loses a tick.
      for (unsigned i = 0; i < shape.timers; ++i) {
        if (((start | stop) >> i & 1U) != 0) machine.set_element("timers", i, 0);
      }
      const std::uint32_t expired = machine.run();
      for (unsigned i = 0; i < shape.timers; ++i) {
        if ((start >> i & 1U) != 0) machine.set_element("timers", i, value);
      }
      REQUIRE(simulator.value("expired") == ((before & ~start & ~stop) | expired));
    }
  }
}

// The time runs over; between events it stands at most up to the deadline that was set.
TEST_CASE("firmware that waits for the next deadline expires the timers that ticks expire") {
  for (const TimerBankShape shape : {TimerBankShape{5, 8, 0}, {8, 16, 0}, {20, 12, 0}}) {
    CAPTURE(shape.timers, shape.bits);
    const auto routine = next_deadline_routine(shape);
    firmware::Machine machine(routine);
    const std::uint32_t mask = shape.bits > 8 ? 0xFFFFU : 0xFFU;
    std::uint32_t now = mask - 100;
    std::uint32_t deadline = now;
    machine.on_read("time", [&] { return now & mask; });
    machine.on_write("compare", [&](std::uint32_t value) { deadline = value; });
    Model model(shape.timers);
    std::mt19937_64 random(9);
    unsigned wakes = 0;
    for (unsigned tick = 0; tick < 4000; ++tick, ++now) {
      const std::uint64_t flags = model.flags();
      model.clock(tick > 0, 0, 0, 0);
      std::uint32_t expired = 0;
      if ((now & mask) == deadline) {
        expired = machine.run({shape.timers, 0});
        ++wakes;
      }
      REQUIRE(model.flags() == (flags | expired));
      if (random() % 16 != 0) continue;
      const auto timer = static_cast<std::uint32_t>(random() % shape.timers);
      const auto value = static_cast<std::uint32_t>(random() % 3 == 0 ? 0 : 1 + random() % 100);
      // Started at this tick, it counts from the next.
      model.clock(false, value > 0 ? std::uint64_t{1} << timer : 0, std::uint64_t{1} << timer, value);
      CHECK(machine.run({timer, value}) == 0);
    }
    CHECK(wakes < 400);
  }
}

TEST_CASE("idle timers do not toggle") {
  const Kind kind = timer_bank_kind();
  const Settings settings = Settings::standard(kind.settings);
  const auto network = kind.network(settings);
  logic::Simulator idle(network);
  logic::Simulator active(network);
  const Drive rest = kind.traffic(settings, TrafficState::idle, 1);
  const Drive run = kind.traffic(settings, TrafficState::active, 1);
  for (std::uint64_t clock = 0; clock < 3000; ++clock) {
    rest(idle, clock);
    run(active, clock);
    idle.clock();
    active.clock();
  }
  std::uint64_t idle_toggles = 0;
  std::uint64_t active_toggles = 0;
  for (const auto& reg : network.registers()) {
    idle_toggles += idle.toggles(reg.node);
    active_toggles += active.toggles(reg.node);
  }
  CHECK(idle_toggles == 0);
  CHECK(active_toggles > 64 * 3000);
}

}  // namespace portweigh::blocks

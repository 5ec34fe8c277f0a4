// The I2C controller on an open-drain bus with a memory and a second controller that know nothing of it.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

#include "blocks/host_bus/host_interface.hpp"
#include "i2c_bus_fixture.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned target_address = 0x51;
constexpr unsigned write_address = target_address << 1U, read_address = write_address | 1U;
constexpr auto condition = I2cInstruction::condition, send = I2cInstruction::send,
               receive = I2cInstruction::receive;

struct Bench {
  explicit Bench(unsigned rate, RivalController::Timing rival_timing = {60, 50}, unsigned filter = 2)
      : rival(rival_timing) {
    drive({true, true});
    write(I2cInstruction::rate, filter << i2c_rate_bits | rate);
  }
  logic::Network network = i2c_controller_network();
  logic::Simulator simulator{network, logic::ToggleCounting::off};
  BusWatch watch;
  MemoryTarget target{target_address};
  RivalController rival;
  Wires forced;               // false: something broken pulls
  Wires spike{false, false};  // what the controller's pins see inverted

  void clock() {
    const Wires wires{!pulls_scl() && !target.pulls_scl() && !rival.pulls_scl() && forced.scl,
                      !pulls_sda() && !target.pulls_sda() && !rival.pulls_sda() && forced.sda};
    watch.see(wires);
    target.see(wires);
    rival.see(wires);
    drive({wires.scl != spike.scl, wires.sda != spike.sda});
    simulator.clock();
  }
  void clocks(unsigned count) {
    for (unsigned i = 0; i < count; ++i) clock();
  }
  bool pulls_scl() { return simulator.value("scl_low") != 0; }
  bool pulls_sda() { return simulator.value("sda_low") != 0; }
  unsigned report() { return static_cast<unsigned>(simulator.value("report")); }
  bool has(unsigned flag) { return (report() & flag) != 0; }

  void write(I2cInstruction kind, unsigned operand) {
    simulator.set("instruction", static_cast<unsigned>(kind) << i2c_instruction_shift | operand);
    simulator.set("write", 1);
    clock();
    simulator.set("write", 0);
  }
  // Writes as soon as there is room.
  void instruct(I2cInstruction kind, unsigned operand = 0) {
    wait([&] { return !has(i2c_report::full); });
    write(kind, operand);
  }
  // The report at the next interrupt, which is then taken.
  unsigned await() {
    wait([&] { return simulator.value("interrupt") != 0; });
    const unsigned seen = report();
    simulator.set("take", 1);
    clock();
    simulator.set("take", 0);
    return seen;
  }
  unsigned run(I2cInstruction kind, unsigned operand = 0) {
    instruct(kind, operand | i2c_option::notify);
    return await();
  }
  template <typename Condition>
  void wait(Condition is_met) {
    for (unsigned i = 0; i < 100'000; ++i) {
      if (is_met()) return;
      clock();
    }
    FAIL("waited in vain");
  }

  // Whole transfers, with the queue never empty where a write needs no answer.
  void store(unsigned place, const std::vector<unsigned>& data) {
    instruct(condition);
    instruct(send, write_address);
    instruct(send, place);
    for (const unsigned byte : data) instruct(send, byte);
    REQUIRE((run(condition, i2c_option::stop) & (i2c_report::refused | i2c_report::lost)) == 0);
  }
  std::vector<unsigned> fetch(unsigned place, std::size_t count) {
    instruct(condition);
    instruct(send, write_address);
    instruct(send, place);
    instruct(condition);
    instruct(send, read_address);
    std::vector<unsigned> data;
    for (std::size_t i = 0; i < count; ++i) {
      data.push_back(run(receive, i + 1 == count ? i2c_option::refuse : 0U) & i2c_report::byte);
    }
    REQUIRE((run(condition, i2c_option::stop) & (i2c_report::refused | i2c_report::lost)) == 0);
    return data;
  }

 private:
  void drive(Wires pins) {
    simulator.set("scl", pins.scl ? 1 : 0);
    simulator.set("sda", pins.sda ? 1 : 0);
  }
};

std::vector<unsigned> random_bytes(std::mt19937_64& random, std::size_t count) {
  std::vector<unsigned> bytes(count);
  for (auto& byte : bytes) byte = static_cast<unsigned>(random() % 256);
  return bytes;
}

std::vector<unsigned> stored(const Bench& bench, unsigned place, std::size_t count) {
  const auto first = bench.target.memory.begin() + place;
  return {first, first + static_cast<std::ptrdiff_t>(count)};
}

}  // namespace

TEST_CASE("an I2C controller stores and fetches bytes, at several rates", "[host-interface]") {
  std::mt19937_64 random(5);
  for (const unsigned rate : {1U, 2U, 7U, 30U}) {
    CAPTURE(rate);
    Bench bench(rate);
    for (int transfer = 0; transfer < 4; ++transfer) {
      const auto data = random_bytes(random, 1 + random() % 4);
      const auto place = static_cast<unsigned>(random() % 250);
      bench.store(place, data);
      REQUIRE(stored(bench, place, data.size()) == data);
      REQUIRE(bench.has(i2c_report::bus_busy) == false);
      REQUIRE(bench.fetch(place, data.size()) == data);
    }
    CHECK(bench.watch.starts == 12);
    CHECK(bench.watch.stops == 8);
    CHECK_FALSE(bench.has(i2c_report::holds_bus));
    CHECK_FALSE(bench.pulls_scl());
    CHECK_FALSE(bench.pulls_sda());
  }
}

TEST_CASE("an I2C controller waits for a target that stretches the clock", "[host-interface]") {
  for (const bool each_bit : {false, true}) {
    Bench bench(5);
    (each_bit ? bench.target.stretch_after_bit : bench.target.stretch_after_byte) = 500;
    bench.store(7, {0xB4, 0x2D});
    CHECK(stored(bench, 7, 2) == std::vector<unsigned>{0xB4, 0x2D});
    CHECK(bench.watch.longest_period >= 500);
    CHECK(bench.watch.high >= 4 * 6);  // a full high time from where SCL is really high
    CHECK(bench.fetch(7, 2) == std::vector<unsigned>{0xB4, 0x2D});
  }
}

TEST_CASE("a refused byte stops an I2C controller until its report is taken", "[host-interface]") {
  Bench bench(3);
  bench.instruct(condition);
  bench.instruct(send, 0x22U << 1U);
  bench.instruct(send, 0xAA);  // waits when the address is refused, and is dropped
  const unsigned report = [&] {
    bench.wait([&] { return bench.simulator.value("interrupt") != 0; });
    bench.write(send, 0xBB);  // the host doesn't know yet: dropped too
    return bench.await();
  }();
  CHECK((report & i2c_report::refused) != 0);
  CHECK((report & i2c_report::lost) == 0);
  CHECK((report & i2c_report::holds_bus) != 0);
  bench.clocks(500);
  CHECK(bench.pulls_scl());  // nothing ran on
  CHECK_FALSE(bench.has(i2c_report::full | i2c_report::refused | i2c_report::notified));
  bench.run(condition, i2c_option::stop);
  CHECK(bench.watch.stops == 1);

  bench.target.accepts = 1;  // the second data byte is refused
  bench.instruct(condition);
  for (const unsigned byte : {write_address, 9U, 0x77U}) {
    CHECK((bench.run(send, byte) & i2c_report::refused) == 0);
  }
  CHECK((bench.run(send, 0x88) & i2c_report::refused) != 0);
  CHECK(stored(bench, 9, 2) == std::vector<unsigned>{0x77, 0});
}

TEST_CASE("two I2C controllers that begin together: the lower message wins untouched", "[host-interface]") {
  std::mt19937_64 random(6);
  unsigned won = 0;
  unsigned beaten = 0;
  for (unsigned round = 0; round < 60; ++round) {
    const auto pace = static_cast<unsigned>(random() % 3);  // quicker or slower: SCL is what both make of it
    Bench bench(4, {32 + 12 * pace, 14 + 12 * pace});
    const auto place = static_cast<unsigned>(random() % 64);
    const unsigned rival_place = random() % 4 == 0 ? place : static_cast<unsigned>(random() % 64);
    const auto ours = random_bytes(random, 2);
    const auto theirs = random_bytes(random, 2);
    CAPTURE(round, pace, place, rival_place, ours, theirs);
    bench.rival.write({write_address, rival_place, theirs[0], theirs[1]});
    // Our start follows 28 clocks later: at the rival's, or before its can be seen through the filter.
    bench.clocks(4 + 12 * pace + static_cast<unsigned>(random() % 6));
    bench.instruct(condition);
    bench.instruct(send, write_address);
    bench.instruct(send, place);
    bench.instruct(send, ours[0]);
    bench.instruct(send, ours[1]);
    if (!bench.has(i2c_report::lost)) bench.instruct(condition, i2c_option::stop | i2c_option::notify);
    const bool is_lost = (bench.await() & i2c_report::lost) != 0;
    bench.wait([&] { return !bench.has(i2c_report::bus_busy); });
    const auto rival_state = bench.rival.state();
    if (is_lost) {
      ++beaten;
      CHECK(rival_state == RivalController::State::done);
      CHECK(stored(bench, rival_place, 2) == theirs);
      bench.store(place, ours);  // again, now alone
    } else if (rival_state == RivalController::State::beaten) {
      ++won;
      CHECK(bench.watch.stops == 1);
    }
    CHECK(stored(bench, place, 2) == ours);
  }
  CHECK(won > 5);
  CHECK(beaten > 5);
}

TEST_CASE("a lost I2C controller lets go of the lines and drops what waits", "[host-interface]") {
  Bench bench(3);
  bench.instruct(condition);
  bench.instruct(send, 0xFF);
  bench.instruct(send, 0x00);
  bench.clocks(60);
  bench.forced.sda = false;
  CHECK((bench.await() & (i2c_report::lost | i2c_report::holds_bus)) == i2c_report::lost);
  for (int i = 0; i < 500; ++i) {
    bench.clock();
    REQUIRE_FALSE(bench.pulls_scl());
    REQUIRE_FALSE(bench.pulls_sda());
  }
  bench.forced.sda = true;  // with SCL high, this is a stop
  bench.store(1, {0x66});
  CHECK(stored(bench, 1, 1) == std::vector<unsigned>{0x66});
}

TEST_CASE("a start, a stop or a falling clock of somebody else takes the bus from an I2C controller",
          "[host-interface]") {
  const auto until_high_bit = [](Bench& bench) {  // in the high part of the first bit received
    bench.instruct(condition);
    bench.instruct(receive);
    bench.wait([&] { return bench.pulls_scl(); });
    bench.wait([&] { return !bench.pulls_scl(); });
    bench.clocks(20);
  };
  Bench start(11);
  until_high_bit(start);
  start.forced.sda = false;
  CHECK((start.await() & (i2c_report::lost | i2c_report::bus_busy)) ==
        (i2c_report::lost | i2c_report::bus_busy));

  Bench stop(11);
  stop.instruct(condition);
  stop.instruct(receive);
  stop.wait([&] { return stop.pulls_scl(); });
  stop.forced.sda = false;
  stop.wait([&] { return !stop.pulls_scl(); });
  stop.clocks(20);
  stop.forced.sda = true;
  CHECK((stop.await() & (i2c_report::lost | i2c_report::bus_busy)) == i2c_report::lost);

  for (const unsigned kind : {0U, i2c_option::stop}) {  // before a repeated start, before a stop
    Bench fall(11);
    fall.instruct(condition);
    fall.run(send, write_address);
    fall.instruct(condition, kind);
    fall.wait([&] { return !fall.pulls_scl(); });
    fall.clocks(20);
    fall.forced.scl = false;
    CHECK((fall.await() & i2c_report::lost) != 0);
    fall.clocks(1);
    CHECK_FALSE(fall.pulls_sda());
  }
}

TEST_CASE("conditions that the lines deny are reported as lost", "[host-interface]") {
  Bench start(3);
  start.forced.sda = false;
  start.clocks(20);
  CHECK_FALSE(start.has(i2c_report::lost));
  start.write(I2cInstruction::rate, 2U << i2c_rate_bits | 3U);  // what looked like a start is forgotten
  CHECK_FALSE(start.has(i2c_report::bus_busy));
  CHECK((start.run(condition) & i2c_report::lost) != 0);

  Bench stop(3);
  stop.instruct(condition);
  stop.run(send, write_address);
  stop.forced.sda = false;
  CHECK((stop.run(condition, i2c_option::stop) & i2c_report::lost) != 0);
  CHECK_FALSE(stop.has(i2c_report::holds_bus));

  for (const auto& [kind, operand] : {std::pair{send, 0U}, {receive, 0U}, {condition, i2c_option::stop}}) {
    Bench without_bus(3);
    CHECK((without_bus.run(kind, operand) & i2c_report::lost) != 0);
    CHECK(without_bus.watch.starts == 0);
    CHECK(without_bus.watch.low == BusWatch::never);
  }
}

TEST_CASE("a start waits for the end of another controller's message", "[host-interface]") {
  Bench bench(6, {70, 60});
  bench.rival.write({write_address, 20, 0x12, 0x34});
  bench.wait([&] { return bench.has(i2c_report::bus_busy); });
  bench.store(40, {0x56});
  CHECK(bench.rival.state() == RivalController::State::done);
  CHECK(stored(bench, 20, 2) == std::vector<unsigned>{0x12, 0x34});
  CHECK(stored(bench, 40, 1) == std::vector<unsigned>{0x56});
  CHECK(bench.watch.bus_free >= 5 * 7);
}

TEST_CASE("the clock of two I2C controllers is low as long as the slower, high as short as the quicker",
          "[host-interface]") {
  Bench bench(9, {120, 18});  // ours 50 low, 40 high
  bench.rival.write({write_address, 5, 0x3C});
  bench.clocks(120 - 52);  // to begin together; both messages are the same, so nobody is beaten
  bench.store(5, {0x3C});
  CHECK(bench.rival.state() == RivalController::State::done);
  CHECK(bench.watch.low >= 120);
  CHECK(bench.watch.high <= 18 + 1);
  CHECK(bench.watch.starts == 1);
  CHECK(stored(bench, 5, 1) == std::vector<unsigned>{0x3C});
}

TEST_CASE("spikes no longer than the filter are passed over by an I2C controller", "[host-interface]") {
  std::mt19937_64 random(8);
  const std::vector<std::pair<I2cInstruction, unsigned>> script{
      {condition, 0}, {send, write_address}, {send, 30}, {send, 0xC5},   {send, 0x3A},
      {condition, 0}, {send, write_address}, {send, 30}, {condition, 0}, {send, read_address},
      {receive, 0}};
  for (const unsigned filter : {1U, 2U, 5U, 15U}) {
    CAPTURE(filter);
    Bench bench(15, {60, 50}, filter);
    const auto noisy = [&](const auto& is_met) {
      bench.wait([&] {
        const auto draw = random() % 16;
        bench.spike = {draw == 0, draw == 1};
        if (draw < 2) bench.clocks(1 + static_cast<unsigned>(random() % filter));
        bench.spike = {false, false};
        bench.clocks(2 + filter);
        return is_met();
      });
    };
    for (const auto& [kind, operand] : script) {
      noisy([&] { return !bench.has(i2c_report::full); });
      bench.write(kind, operand | (kind == receive ? i2c_option::notify : 0U));
    }
    noisy([&] { return bench.simulator.value("interrupt") != 0; });
    CHECK((bench.report() & (i2c_report::byte | i2c_report::refused | i2c_report::lost)) == 0xC5);
    CHECK(stored(bench, 30, 2) == std::vector<unsigned>{0xC5, 0x3A});

    for (const unsigned clocks : {filter, filter + 1}) {  // SDA low on a resting bus: a start if long enough
      Bench resting(15, {60, 50}, filter);
      resting.forced.sda = false;
      resting.clocks(clocks);
      resting.forced.sda = true;
      unsigned busy = 0;
      for (unsigned i = 0; i < 40; ++i) {
        resting.clock();
        busy += resting.has(i2c_report::bus_busy) ? 1 : 0;
      }
      CHECK(busy == (clocks > filter ? clocks : 0));
    }
  }
}

// Shortest times of the I2C-bus specification, in nanoseconds, and its highest clock rates [M].
TEST_CASE("times on the bus keep to the specification at full rate", "[host-interface]") {
  struct Mode {
    double rate_hz, low, high, start_hold, start_set_up, stop_set_up, bus_free, data_set_up;
  };
  const double clock_hz = 48e6;
  const unsigned filter = 3;  // spikes of 50 ns [M] are 2.4 clocks
  const unsigned delay = filter + i2c_line_delay_clocks;
  for (const Mode& mode :
       {Mode{100e3, 4700, 4000, 4000, 4700, 4000, 4700, 250},
        Mode{400e3, 1300, 600, 600, 600, 600, 1300, 100}, Mode{1e6, 500, 260, 260, 260, 260, 500, 50}}) {
    CAPTURE(mode.rate_hz);
    const double clocks_per_bit = clock_hz / mode.rate_hz;
    const auto rate = static_cast<unsigned>(std::ceil((clocks_per_bit - delay) / 9)) - 1;
    Bench bench(rate, {60, 50}, filter);
    bench.store(3, {0x5A, 0xA5});
    CHECK(bench.fetch(3, 2) == std::vector<unsigned>{0x5A, 0xA5});
    const BusWatch& watch = bench.watch;
    const auto nanoseconds = [&](unsigned clocks) { return clocks / clock_hz * 1e9; };
    CHECK(watch.period >= clocks_per_bit);
    CHECK(watch.period == 9 * (rate + 1) + delay);
    CHECK(watch.low == 5 * (rate + 1));
    CHECK(nanoseconds(watch.low) >= mode.low);
    CHECK(nanoseconds(watch.high) >= mode.high);
    CHECK(nanoseconds(watch.start_hold) >= mode.start_hold);
    CHECK(nanoseconds(watch.start_set_up) >= mode.start_set_up);
    CHECK(nanoseconds(watch.stop_set_up) >= mode.stop_set_up);
    CHECK(nanoseconds(watch.bus_free) >= mode.bus_free);
    CHECK(nanoseconds(watch.data_set_up) >= mode.data_set_up);
  }
}

TEST_CASE("a new rate ends whatever an I2C controller does", "[host-interface]") {
  Bench bench(5);
  bench.instruct(condition);
  bench.instruct(send, write_address);
  bench.instruct(send, 0x00);
  bench.clocks(200);
  bench.write(I2cInstruction::rate, 2U << i2c_rate_bits | 2U);
  CHECK_FALSE(bench.pulls_scl());
  CHECK_FALSE(bench.pulls_sda());
  CHECK(bench.report() >> 8U == 0);
  bench.clocks(200);
  bench.store(50, {0x99});
  CHECK(stored(bench, 50, 1) == std::vector<unsigned>{0x99});
}

}  // namespace portweigh::blocks

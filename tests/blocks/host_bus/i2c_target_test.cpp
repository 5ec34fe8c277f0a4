// The I2C target, alone and in front of a register bank, against a bus model that knows nothing of its
// insides.
#include <catch2/catch.hpp>
#include <map>
#include <random>
#include <vector>

#include "blocks/host_bus/host_interface.hpp"
#include "blocks/host_bus/register_bank.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned own_address = 0x2A;
constexpr unsigned half_period = 20;  // clocks

// Target and register bank joined in one network, as on a chip.
logic::Network target_with_bank() {
  logic::Network network;
  const I2cTargetInputs inputs{add_input(network, "reset"), add_input(network, "scl"),
                               add_input(network, "sda"), add_input_word(network, "device_address", 7)};
  const RegisterBankShape shape{.registers = 16, .bits = 8, .writable = 10};
  std::vector<logic::Word> status;
  for (unsigned i = 10; i < 16; ++i) status.push_back(constant_word(network, 0xC0 + i, 8));
  const auto target = add_i2c_target(network, inputs, [&](const RegisterAccess& access) {
    const logic::Bit is_inside = access.address.slice(4, 4) == 0U;
    const auto bank = add_register_bank(network, shape,
                                        {inputs.reset, access.address.slice(0, 4), access.write & is_inside,
                                         access.write_data, access.read, status});
    return bank.read_data;
  });
  add_output(target.sda_low, "sda_low");
  add_output(target.is_selected, "selected");
  return network;
}

// The only controller of the bus, moving open-drain lines with quarter-period care for set-up and hold.
class BusModel {
 public:
  explicit BusModel(logic::Simulator& simulator) : simulator_(simulator) {
    simulator.set("device_address", own_address);
    lines(true, true);
  }
  void start() {
    lines(scl_, true);
    lines(true, true);
    lines(true, false);
    lines(false, false);
  }
  void stop() {
    lines(false, false);
    lines(true, false);
    lines(true, true);
  }
  bool send_bit(bool bit) {  // returns the level seen while SCL is high
    lines(false, bit);
    lines(true, bit);
    const bool seen = sda_ && simulator_.value("sda_low") == 0;
    lines(false, bit);
    return seen;
  }
  bool send(unsigned byte) {  // true: acknowledged
    for (unsigned i = 8; i-- > 0;) send_bit(((byte >> i) & 1U) != 0);
    return !send_bit(true);
  }
  unsigned receive(bool is_last) {
    unsigned byte = 0;
    for (unsigned i = 0; i < 8; ++i) byte = byte << 1U | (send_bit(true) ? 1U : 0U);
    send_bit(is_last);
    return byte;
  }
  void pulse_sda_low(unsigned clocks) { pulse("sda", clocks); }
  void pulse_scl_low(unsigned clocks) { pulse("scl", clocks); }

 private:
  void lines(bool scl, bool sda) {
    scl_ = scl;
    sda_ = sda;
    for (unsigned i = 0; i < half_period / 2; ++i) {
      simulator_.set("scl", scl_ ? 1 : 0);
      simulator_.set("sda", sda_ && simulator_.value("sda_low") == 0 ? 1 : 0);
      simulator_.clock();
    }
  }
  void pulse(const char* line, unsigned clocks) {
    simulator_.set(line, 0);
    simulator_.clock(clocks);
    simulator_.set(line, 1);
    simulator_.clock(half_period);
  }

  logic::Simulator& simulator_;
  bool scl_ = true;
  bool sda_ = true;
};

struct Bench {
  logic::Network network = target_with_bank();
  logic::Simulator simulator{network};
  BusModel bus{simulator};

  void write(unsigned first, const std::vector<unsigned>& data) {
    bus.start();
    REQUIRE(bus.send(own_address << 1U));
    REQUIRE(bus.send(first));
    for (const unsigned byte : data) REQUIRE(bus.send(byte));
    bus.stop();
  }
  std::vector<unsigned> read(unsigned first, std::size_t count) {
    bus.start();
    REQUIRE(bus.send(own_address << 1U));
    REQUIRE(bus.send(first));
    bus.start();
    REQUIRE(bus.send(own_address << 1U | 1U));
    std::vector<unsigned> data;
    for (std::size_t i = 0; i < count; ++i) data.push_back(bus.receive(i + 1 == count));
    bus.stop();
    return data;
  }
};

}  // namespace

TEST_CASE("a register bank behind an I2C target is written and read over the bus") {
  Bench bench;
  std::mt19937_64 random(3);
  std::map<unsigned, unsigned> expected;
  for (unsigned i = 0; i < 16; ++i) expected[i] = i < 10 ? 0 : 0xC0 + i;
  for (int transfer = 0; transfer < 30; ++transfer) {
    const auto first = static_cast<unsigned>(random() % 16);
    const auto count = 1 + random() % 5;
    std::vector<unsigned> data(count);
    for (unsigned i = 0; i < count; ++i) {
      data[i] = static_cast<unsigned>(random() % 256);
      if (first + i < 10) expected[first + i] = data[i];
    }
    bench.write(first, data);
    const auto from = static_cast<unsigned>(random() % 12);
    const auto seen = bench.read(from, 4);
    for (unsigned i = 0; i < 4; ++i) REQUIRE(seen[i] == expected[from + i]);
  }
}

TEST_CASE("a read goes on where the last one ended") {
  Bench bench;
  bench.write(2, {0x11, 0x22, 0x33, 0x44});
  CHECK(bench.read(2, 2) == std::vector<unsigned>{0x11, 0x22});
  bench.bus.start();
  REQUIRE(bench.bus.send(own_address << 1U | 1U));
  CHECK(bench.bus.receive(false) == 0x33);
  CHECK(bench.bus.receive(true) == 0x44);
  bench.bus.stop();
}

TEST_CASE("a target leaves foreign addresses alone and wakes up at the next start") {
  Bench bench;
  bench.bus.start();
  CHECK_FALSE(bench.bus.send((own_address ^ 0x01U) << 1U));
  CHECK_FALSE(bench.bus.send(0x03));
  CHECK_FALSE(bench.bus.send(0x77));
  CHECK(bench.simulator.value("selected") == 0);
  bench.write(3, {0x5A});
  CHECK(bench.read(3, 1) == std::vector<unsigned>{0x5A});
}

TEST_CASE("short pulses on the lines are passed over") {
  Bench bench;
  for (unsigned clocks = 1; clocks <= 2; ++clocks) {
    bench.bus.pulse_sda_low(clocks);  // would be a start and a stop
    CHECK(bench.simulator.value("selected") == 0);
    bench.bus.pulse_scl_low(clocks);
  }
  bench.bus.pulse_sda_low(i2c_filter_clocks);
  bench.write(1, {0x99});
  CHECK(bench.read(1, 1) == std::vector<unsigned>{0x99});
}

TEST_CASE("a stop in the middle of a byte ends a transfer without a write") {
  Bench bench;
  bench.write(4, {0x12});
  bench.bus.start();
  REQUIRE(bench.bus.send(own_address << 1U));
  REQUIRE(bench.bus.send(4));
  for (int i = 0; i < 5; ++i) bench.bus.send_bit(true);
  bench.bus.stop();
  CHECK(bench.simulator.value("selected") == 0);
  CHECK(bench.read(4, 1) == std::vector<unsigned>{0x12});
}

TEST_CASE("the strobes of an I2C target last one clock each") {
  const auto network = i2c_target_network();
  logic::Simulator simulator(network);
  simulator.set("read_data", 0xA7);
  BusModel bus(simulator);
  simulator.reset_toggles();
  bus.start();
  CHECK(bus.send(own_address << 1U));
  CHECK(bus.send(0x80));
  CHECK(bus.send(0x55));
  CHECK(simulator.value("address") == 0x81);
  bus.start();
  CHECK(bus.send(own_address << 1U | 1U));
  CHECK(bus.receive(false) == 0xA7);
  CHECK(bus.receive(true) == 0xA7);
  bus.stop();
  std::map<std::string, std::uint64_t> toggles;
  for (const auto& output : network.outputs()) {
    toggles[output.name] = simulator.toggles(output.literal.node()) / logic::Simulator::streams;
  }
  CHECK(toggles["write"] == 2);  // up and down once
  CHECK(toggles["read"] == 4);   // one for each byte read
  CHECK(simulator.value("address") == 0x83);
}

}  // namespace portweigh::blocks

// Firmware of the host interface: register file and rings against plain models, hand-moved lines against
// models of the other side, and the I2C interrupt body against what the network's bus tests expect of a
// register bank.
#include "blocks/host_bus/host_interface_routine.hpp"

#include <catch2/catch.hpp>
#include <deque>
#include <random>
#include <vector>

#include "firmware/execute.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Machine;

std::uint32_t random_byte(std::mt19937_64& random) {
  return static_cast<std::uint32_t>(random() % 256);
}

// A unit for bytes and conditions on an I2C bus: reports an event, offers or takes a byte.
struct I2cUnit {
  explicit I2cUnit(Machine& target) : machine(target) {
    machine.on_read("status", [this] { return event; });
    machine.on_read("data", [this] { return offered; });
    machine.on_write("data", [this](std::uint32_t byte) { taken = byte; });
    machine.on_write("control", [this](std::uint32_t value) { control = value; });
  }
  std::uint32_t run(std::uint32_t reported, std::uint32_t byte = 0) {
    event = reported;
    offered = byte;
    control = 0;
    machine.run();
    REQUIRE((control & i2c_action::go_on) != 0);
    return taken;
  }
  bool acknowledges() const { return (control & i2c_action::acknowledge) != 0; }
  bool stops() const { return (control & i2c_action::stop) != 0; }
  Machine& machine;
  std::uint32_t event = 0, offered = 0, taken = 0, control = 0;
};

}  // namespace

TEST_CASE("the I2C target interrupt serves a register file with auto-increment") {
  const auto routine = i2c_target_interrupt();
  Machine machine(routine);
  I2cUnit unit(machine);
  std::mt19937_64 random(1);
  std::vector<std::uint32_t> expected(register_file_bytes, 0);
  for (int transfer = 0; transfer < 200; ++transfer) {
    auto pointer = random_byte(random);
    unit.run(i2c_event::addressed);
    CHECK(unit.acknowledges());
    unit.run(i2c_event::received, pointer);
    CHECK(unit.acknowledges());
    const auto count = random() % 6;
    const bool is_write = random() % 2 == 0;
    for (std::size_t i = 0; is_write && i < count; ++i) {
      const auto byte = random_byte(random);
      unit.run(i2c_event::received, byte);
      expected[pointer++ % register_file_bytes] = byte;
    }
    unit.run(i2c_event::ended);
    for (std::size_t i = 0; !is_write && i <= count; ++i) {
      REQUIRE(unit.run(i2c_event::wanted) == expected[pointer++ % register_file_bytes]);
    }
    if (!is_write) unit.run(i2c_event::ended);
  }
  CHECK(machine.elements("file") == expected);
  unit.run(i2c_event::failed);
  CHECK(unit.stops());
}

TEST_CASE("the I2C controller interrupt sends and receives a message") {
  const auto routine = i2c_controller_interrupt();
  Machine machine(routine);
  I2cUnit unit(machine);
  const std::vector<std::uint32_t> message{0x10, 0xA5, 0x3C};
  machine.fill("buffer", message);
  machine.set("length", 3);
  machine.set("address", 0x54);
  CHECK(unit.run(i2c_event::started) == 0x54);
  for (const auto byte : message) CHECK(unit.run(i2c_event::accepted) == byte);
  CHECK(machine.get("result") == 0);
  CHECK_FALSE(unit.stops());
  unit.run(i2c_event::accepted);
  CHECK(machine.get("result") == 1);
  CHECK(unit.stops());

  machine.set("address", 0x55);
  machine.set("result", 0);
  CHECK(unit.run(i2c_event::started) == 0x55);
  unit.run(i2c_event::accepted);
  CHECK(unit.acknowledges());
  unit.run(i2c_event::received, 0x77);
  CHECK(unit.acknowledges());
  unit.run(i2c_event::received, 0x88);
  CHECK_FALSE(unit.acknowledges());  // the next is the last
  CHECK(machine.get("result") == 0);
  unit.run(i2c_event::received, 0x99);
  CHECK(machine.get("result") == 1);
  CHECK(unit.stops());
  CHECK(machine.elements("buffer")[0] == 0x77);
  CHECK(machine.elements("buffer")[1] == 0x88);
  CHECK(machine.elements("buffer")[2] == 0x99);

  for (const auto event : {i2c_event::started, i2c_event::failed}) unit.run(event);
  CHECK(machine.get("result") == 2);
  CHECK(unit.stops());
}

TEST_CASE("UART interrupts move bytes through rings") {
  const auto routine = uart_interrupt();
  Machine machine(routine);
  std::uint32_t status = 0;
  std::uint32_t offered = 0;
  std::vector<std::uint32_t> sent;
  machine.on_read("status", [&] { return status; });
  machine.on_read("data", [&] { return offered; });
  machine.on_write("data", [&](std::uint32_t byte) { sent.push_back(byte); });
  std::mt19937_64 random(2);
  std::vector<std::uint32_t> received;
  for (std::size_t i = 0; i < ring_bytes + 10; ++i) {
    offered = random_byte(random);
    status = uart_flag::received;
    machine.run();
    if (received.size() < ring_bytes - 1) received.push_back(offered);
  }
  CHECK(machine.get("received_head") == ring_bytes - 1);  // full: the rest was dropped
  for (std::size_t i = 0; i < received.size(); ++i) REQUIRE(machine.element("received", i) == received[i]);
  status = uart_flag::received | uart_flag::framing_error;
  machine.run();
  CHECK(machine.get("errors") == 1);

  machine.fill("transmitted", std::vector<std::uint32_t>{1, 2, 3});
  machine.set("transmitted_head", 3);
  std::uint32_t control = uart_flag::transmit_empty;
  machine.on_read("control", [&] { return control; });
  machine.on_write("control", [&](std::uint32_t value) { control = value; });
  status = uart_flag::transmit_empty;
  for (int i = 0; i < 4; ++i) machine.run();
  CHECK(sent == std::vector<std::uint32_t>{1, 2, 3});
  CHECK(control == 0);  // nothing left: the request is switched off
}

TEST_CASE("single UART and SPI interrupts") {
  const auto receive = uart_receive_interrupt();
  Machine receiver(receive);
  receiver.on_read("data", [] { return 0x42U; });
  receiver.on_read("status", [] { return uart_flag::received; });
  receiver.run();
  CHECK(receiver.element("received", 0) == 0x42);
  const auto transmit = uart_transmit_interrupt();
  Machine sender(transmit);
  sender.set_element("transmitted", 0, 0x24);
  sender.set("transmitted_head", 1);
  std::uint32_t sent = 0;
  sender.on_write("data", [&](std::uint32_t byte) { sent = byte; });
  sender.run();
  CHECK(sent == 0x24);

  const auto target = spi_target_interrupt();
  Machine spi_target(target);
  std::uint32_t answer = 0;
  spi_target.fill("transmitted", std::vector<std::uint32_t>{0x91, 0x92});
  spi_target.on_write("data", [&](std::uint32_t byte) { answer = byte; });
  for (const std::uint32_t byte : {0x11U, 0x22U}) {
    spi_target.on_read("data", [byte] { return byte; });
    spi_target.run();
    CHECK(answer == byte / 0x11 + 0x90);
  }
  CHECK(spi_target.element("received", 1) == 0x22);

  const auto controller = spi_controller_interrupt();
  Machine spi_controller(controller);
  spi_controller.fill("buffer", std::vector<std::uint32_t>{0xA1, 0xA2});
  spi_controller.set("length", 2);
  for (const std::uint32_t byte : {0xB1U, 0xB2U}) {
    spi_controller.on_read("data", [byte] { return byte; });
    spi_controller.run();
  }
  CHECK(spi_controller.get("is_done") == 1);
  CHECK(spi_controller.element("buffer", 0) == 0xB1);
  CHECK(spi_controller.element("buffer", 1) == 0xB2);
}

TEST_CASE("an I2C controller moved by hand speaks with a target that samples at rising SCL") {
  const auto routine = i2c_controller_bit_banged();
  std::mt19937_64 random(4);
  for (int round = 0; round < 60; ++round) {
    Machine machine(routine);
    std::vector<bool> seen;  // SDA as the controller drives it, at each rising SCL
    std::uint32_t drive = host_pins::scl;
    const std::uint32_t answer = random_byte(random);
    const bool is_read = round % 2 != 0;
    const bool target_refuses = round % 3 == 0;
    const auto target_pulls = [&] {
      const std::size_t bit = seen.size() - 1;
      if (is_read) return bit < 8 && ((answer >> (7 - bit)) & 1U) == 0;
      return bit == 8 && !target_refuses;
    };
    machine.on_write("drive", [&](std::uint32_t value) {
      if ((drive & host_pins::scl) != 0 && (value & host_pins::scl) == 0) {
        seen.push_back((value & host_pins::sda) == 0);
      }
      drive = value;
    });
    unsigned stretched = 3;  // the target holds SCL for three readings
    machine.on_read("drive", [&] { return drive; });
    machine.on_read("pins", [&]() -> std::uint32_t {
      if (stretched > 0) return --stretched, 0U;
      const bool sda = (drive & host_pins::sda) == 0 && !target_pulls();
      return ((drive & host_pins::scl) == 0 ? host_pins::scl : 0U) | (sda ? host_pins::sda : 0U);
    });
    const auto byte = random_byte(random);
    const bool refuse = round % 4 == 1;
    const auto result = machine.run({byte, is_read ? 1U : 0U, refuse ? 1U : 0U});
    REQUIRE(seen.size() == 9);
    if (is_read) {
      REQUIRE(result == answer);
      REQUIRE(seen[8] == refuse);
    } else {
      for (unsigned i = 0; i < 8; ++i) REQUIRE(seen[i] == (((byte >> (7 - i)) & 1U) != 0));
      REQUIRE(seen[8]);
      REQUIRE(result == (target_refuses ? 1U : 0U));
    }
  }
}

TEST_CASE("an I2C target moved by hand receives, acknowledges and sends") {
  const auto routine = i2c_target_bit_banged();
  std::mt19937_64 random(5);
  for (int round = 0; round < 40; ++round) {
    Machine machine(routine);
    std::uint32_t drive = 0;
    unsigned reads = 0;
    const bool is_read = round % 2 != 0;
    const auto wire_byte = random_byte(random);
    std::vector<bool> pulled;
    machine.on_read("drive", [&] { return drive; });
    machine.on_write("drive", [&](std::uint32_t value) { drive = value; });
    // The controller: SCL low for two readings, high for four; what the target pulls counts in mid-high.
    machine.on_read("pins", [&]() -> std::uint32_t {
      const unsigned bit = reads / 6;
      const bool is_high = reads % 6 >= 2;
      if (reads % 6 == 2) pulled.push_back((drive & host_pins::sda) != 0);
      ++reads;
      const bool controller_sda =
          is_read ? bit != 8 || round % 4 != 1 : bit >= 8 || ((wire_byte >> (7 - bit)) & 1U) != 0;
      const bool sda = controller_sda && (drive & host_pins::sda) == 0;
      return (is_high ? host_pins::scl : 0U) | (sda ? host_pins::sda : 0U);
    });
    const auto result = machine.run({wire_byte, is_read ? 1U : 0U});
    REQUIRE(pulled.size() == 9);
    if (is_read) {
      for (unsigned i = 0; i < 8; ++i) REQUIRE(pulled[i] == (((wire_byte >> (7 - i)) & 1U) == 0));
      REQUIRE_FALSE(pulled[8]);
      REQUIRE(result == (round % 4 == 1 ? 0U : 1U));
    } else {
      REQUIRE(result == wire_byte);
      REQUIRE(pulled[8]);
    }
  }
}

TEST_CASE("SPI moved by hand exchanges bytes in mode 0") {
  std::mt19937_64 random(6);
  const auto controller = spi_controller_bit_banged();
  const auto target = spi_target_bit_banged();
  for (int round = 0; round < 30; ++round) {
    const auto out = random_byte(random);
    const auto in = random_byte(random);
    Machine machine(controller);
    std::uint32_t drive = 0;
    unsigned seen = 0;
    unsigned bits = 0;
    machine.on_read("drive", [&] { return drive; });
    machine.on_write("drive", [&](std::uint32_t value) {
      if ((value & host_pins::sck) != 0 && (drive & host_pins::sck) == 0) {
        seen = seen << 1U | ((value & host_pins::mosi) != 0 ? 1U : 0U);
        ++bits;
      }
      drive = value;
    });
    machine.on_read("pins", [&] { return ((in >> (8 - bits)) & 1U) != 0 ? host_pins::miso : 0U; });
    REQUIRE(machine.run({out}) == in);
    REQUIRE(seen == out);

    Machine other(target);
    std::uint32_t levels = 0;
    unsigned reads = 0;
    unsigned answered = 0;
    other.on_read("drive", [&] { return levels; });
    other.on_write("drive", [&](std::uint32_t value) { levels = value; });
    other.on_read("pins", [&]() -> std::uint32_t {
      const unsigned bit = reads / 5;
      const bool is_high = reads % 5 >= 1;
      if (reads % 5 == 1) answered = answered << 1U | ((levels & host_pins::miso) != 0 ? 1U : 0U);
      ++reads;
      return (is_high ? host_pins::sck : 0U) |
             (bit < 8 && ((in >> (7 - bit)) & 1U) != 0 ? host_pins::mosi : 0U);
    });
    REQUIRE(other.run({out}) == in);
    REQUIRE(answered == out);
  }
}

TEST_CASE("UART moved by hand sends and receives frames") {
  std::mt19937_64 random(7);
  const auto routine = uart_bit_banged();
  for (int round = 0; round < 30; ++round) {
    const auto byte = random_byte(random);
    Machine machine(routine);
    unsigned periods = 0;  // timer periods over
    std::uint32_t drive = host_pins::txd;
    unsigned waits = 0;
    machine.on_read("timer", [&] { return ++waits % 3 == 0 ? 1U : 0U; });
    machine.on_write("timer", [&](std::uint32_t) { ++periods; });
    machine.on_read("drive", [&] { return drive; });
    std::vector<bool> line;
    machine.on_write("drive", [&](std::uint32_t value) {
      drive = value;
      line.resize(periods, true);
      line[periods - 1] = (value & host_pins::txd) != 0;
    });
    machine.run({byte, 0});
    REQUIRE(line.size() == 10);
    REQUIRE_FALSE(line[0]);
    for (unsigned i = 0; i < 8; ++i) REQUIRE(line[i + 1] == (((byte >> i) & 1U) != 0));
    REQUIRE(line[9]);

    const bool is_broken = round % 5 == 0;
    periods = 0;
    machine.on_read("pins",
                    [&] { return periods == 9 ? (is_broken ? 0U : 1U) : (byte >> (periods - 1)) & 1U; });
    REQUIRE(machine.run({0, 1}) == (byte | (is_broken ? 0x100U : 0U)));
  }
  const auto receive = uart_receive_bit_banged();
  Machine receiver(receive);
  receiver.on_read("timer", [] { return 1U; });
  receiver.on_read("pins", [] { return 1U; });
  CHECK(receiver.run() == 0xFF);
  const auto transmit = uart_transmit_bit_banged();
  Machine sender(transmit);
  sender.on_read("timer", [] { return 1U; });
  CHECK_NOTHROW(sender.run({0x5A}));
  CHECK((sender.get("drive") & host_pins::txd) != 0);
}

}  // namespace portweigh::blocks

// Traffic on the host's bus: transfers without pause, data different in each of the 64 streams, framing
// alike.
//
// Lines that the network listens to follow a script of steps, each some clocks long, made of bits that are
// drawn as a transfer begins; controllers and senders get the next byte as soon as they are free. Idle: the
// lines rest, controllers are set up and wait. Tested by tests/blocks/host_bus/host_interface_test.cpp.
#include <fmt/core.h>

#include <deque>
#include <memory>
#include <random>
#include <stdexcept>

#include "blocks/host_bus/host_interface.hpp"

namespace portweigh::blocks {
namespace {

using Lanes = std::uint64_t;
using logic::Literal;
using logic::Simulator;

constexpr Lanes all_lanes = ~Lanes{0};
constexpr unsigned own_address = 0x2A;

Lanes lanes_of(bool level) {
  return level ? all_lanes : 0;
}

// Of the traffic below: clocks of a step of a script, and what controllers are set to.
constexpr unsigned i2c_step_clocks = 10;
constexpr unsigned i2c_steps_per_bit = 3;
constexpr unsigned i2c_controller_steps_per_bit = 9;
constexpr unsigned i2c_rate = 11;  // of the controller: clocks of a step of its own, less one
constexpr unsigned spi_step_clocks = 4;
constexpr unsigned spi_divider = 1;
constexpr unsigned uart_clocks_per_bit = 32;

// Inputs and outputs by name, looked up once.
class Ports {
 public:
  void find(const Simulator& simulator) {
    if (network_ == nullptr) network_ = &simulator.network();
  }
  Literal input(std::string_view name) const { return among(network_->inputs(), name); }
  Literal output(std::string_view name) const { return among(network_->outputs(), name); }

 private:
  static Literal among(std::span<const logic::NamedLiteral> list, std::string_view name) {
    for (const auto& entry : list) {
      if (entry.name == name) return entry.literal;
    }
    throw std::logic_error("no port is called " + std::string(name));
  }
  const logic::Network* network_ = nullptr;
};

void set_random_byte(Simulator& simulator, const Ports& ports, const std::string& name,
                     std::mt19937_64& random) {
  for (unsigned i = 0; i < 8; ++i) {
    simulator.set_lanes(ports.input(fmt::format("{}[{}]", name, i)), random());
  }
}

// A clock and a data line with all their levels to come.
class TwoLineScript {
 public:
  struct Step {
    bool clock_line;
    bool select_line;
    Lanes data;
  };
  explicit TwoLineScript(unsigned clocks_each) : clocks_each_(clocks_each) {}
  bool is_empty() const { return steps_.empty(); }
  void add(Step step) { steps_.push_back(step); }
  const Step& next() {
    if (clocks_left_ == 0) {
      current_ = steps_.front();
      steps_.pop_front();
      clocks_left_ = clocks_each_;
    }
    --clocks_left_;
    return current_;
  }

 private:
  unsigned clocks_each_;
  unsigned clocks_left_ = 0;
  Step current_{true, true, all_lanes};
  std::deque<Step> steps_;
};

class Traffic {
 public:
  Traffic(TrafficState state, std::uint64_t seed) : state_(state), random_(seed) {}
  virtual ~Traffic() = default;
  void drive(Simulator& simulator, std::uint64_t clock) {
    ports_.find(simulator);
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (clock == 0) set_up(simulator);
    if (clock > 0) step(simulator, clock);
  }

 protected:
  bool is_active() const { return state_ == TrafficState::active; }
  virtual void set_up(Simulator& simulator) = 0;
  virtual void step(Simulator& simulator, std::uint64_t clock) = 0;

  TrafficState state_;
  std::mt19937_64 random_;
  Ports ports_;
};

// Writes of four bytes and reads of four bytes in turn.
class I2cTargetTraffic : public Traffic {
 public:
  using Traffic::Traffic;

 private:
  void set_up(Simulator& simulator) override {
    simulator.set("device_address", own_address);
    simulator.set("scl", 1);
    simulator.set("sda", 1);
  }
  void step(Simulator& simulator, std::uint64_t) override {
    if (!is_active()) return;
    if (script_.is_empty()) add_transfer();
    const auto& step = script_.next();
    simulator.set("scl", step.clock_line ? 1 : 0);
    simulator.set_lanes(ports_.input("sda"), step.data & ~simulator.lanes(ports_.output("sda_low")));
    if (simulator.value("read") != 0) set_random_byte(simulator, ports_, "read_data", random_);
  }
  void add_bit(Lanes data) {
    for (const bool scl : {false, true, false}) script_.add({scl, true, data});
  }
  void add_start() {
    script_.add({false, true, all_lanes});
    script_.add({true, true, all_lanes});
    script_.add({true, true, 0});
    script_.add({false, true, 0});
  }
  void add_own_address(unsigned direction) {
    const unsigned byte = own_address << 1U | direction;
    for (unsigned i = 8; i-- > 0;) add_bit(lanes_of(((byte >> i) & 1U) != 0));
    add_bit(all_lanes);
  }
  void add_random_bytes(unsigned count) {
    for (unsigned i = 0; i < count * 9; ++i) add_bit(i % 9 == 8 ? all_lanes : random_());
  }
  void add_read_bytes(unsigned count) {
    for (unsigned i = 1; i <= count * 9; ++i) add_bit(i % 9 != 0 || i == count * 9 ? all_lanes : 0);
  }
  void add_transfer() {
    add_start();
    add_own_address(0);
    add_random_bytes(is_reading_ ? 1 : 5);
    if (is_reading_) {
      add_start();
      add_own_address(1);
      add_read_bytes(4);
    }
    script_.add({false, true, 0});
    script_.add({true, true, 0});
    script_.add({true, true, all_lanes});
    is_reading_ = !is_reading_;
  }

  TwoLineScript script_{i2c_step_clocks};
  bool is_reading_ = false;
};

// The other end of a controller's bus: acknowledges addresses and written bytes, answers reads with random
// bits. SDA changes after a fall of SCL; framing is alike in all streams, so one line of each tells it.
class AnsweringTarget {
 public:
  // What the target pulls low while the controller has its lines so; `is_read`: the direction, asked at a
  // start.
  Lanes see(bool scl_low, bool sda_low, bool is_read, std::mt19937_64& random) {
    const bool is_start = !scl_low && !was_scl_low_ && sda_low && !was_sda_low_;
    const bool falls = scl_low && !was_scl_low_;
    was_scl_low_ = scl_low;
    was_sda_low_ = sda_low;
    if (is_start) {
      falls_ = 0;
      is_read_ = is_read;
    }
    if (!falls) return pulled_;
    const unsigned bit = falls_ % 9;
    const bool answers = is_read_ && falls_ >= 9;
    ++falls_;
    if (bit == 8) return pulled_ = answers ? 0 : all_lanes;
    return pulled_ = answers ? random() : 0;
  }

 private:
  unsigned falls_ = 0;  // since the start condition
  bool is_read_ = false;
  Lanes pulled_ = 0;
  bool was_scl_low_ = false;
  bool was_sda_low_ = false;
};

// The host sets the rate, then keeps the controller supplied: transfers of an address and three bytes,
// written and read in turn, with an interrupt for each byte.
class I2cControllerTraffic : public Traffic {
 public:
  using Traffic::Traffic;

 private:
  static constexpr unsigned transfer_steps = 6;  // start, address, three bytes, stop

  void set_up(Simulator& simulator) override {
    simulator.set("scl", 1);
    simulator.set("sda", 1);
  }
  void instruct(Simulator& simulator, I2cInstruction kind, unsigned operand) {
    simulator.set("instruction", static_cast<unsigned>(kind) << i2c_instruction_shift | operand);
    simulator.set("write", 1);
  }
  void step(Simulator& simulator, std::uint64_t clock) override {
    const Lanes scl_low = simulator.lanes(ports_.output("scl_low"));
    const Lanes sda_low = simulator.lanes(ports_.output("sda_low"));
    const Lanes pulled = target_.see((scl_low & 1U) != 0, (sda_low & 1U) != 0, is_read_, random_);
    simulator.set_lanes(ports_.input("scl"), ~scl_low);
    simulator.set_lanes(ports_.input("sda"), ~(sda_low | pulled));
    simulator.set("write", 0);
    simulator.set("take", simulator.value("interrupt"));
    if (clock == 1) instruct(simulator, I2cInstruction::rate, 3U << i2c_rate_bits | i2c_rate);
    if (clock > 1 && is_active() && (simulator.value("report") & i2c_report::full) == 0)
      write_next(simulator);
  }
  void write_next(Simulator& simulator) {
    const unsigned position = position_;
    position_ = (position_ + 1) % transfer_steps;
    if (position == 0) return instruct(simulator, I2cInstruction::condition, 0);
    if (position == transfer_steps - 1) {
      is_read_ = !is_read_;
      return instruct(simulator, I2cInstruction::condition, i2c_option::stop);
    }
    if (position > 1 && is_read_) {
      const unsigned refuse = position == transfer_steps - 2 ? i2c_option::refuse : 0U;
      return instruct(simulator, I2cInstruction::receive, i2c_option::notify | refuse);
    }
    instruct(simulator, I2cInstruction::send, i2c_option::notify);
    for (unsigned i = 0; i < 8; ++i) {
      simulator.set_lanes(ports_.input(fmt::format("instruction[{}]", i)), random_());
    }
  }

  AnsweringTarget target_;
  unsigned position_ = 0;
  bool is_read_ = false;
};

class SpiTargetTraffic : public Traffic {
 public:
  using Traffic::Traffic;

 private:
  void set_up(Simulator& simulator) override { simulator.set("select_n", 1); }
  void step(Simulator& simulator, std::uint64_t) override {
    if (!is_active()) return;
    if (script_.is_empty()) add_transfer();
    const auto& step = script_.next();
    simulator.set("sck", step.clock_line ? 1 : 0);
    simulator.set("select_n", step.select_line ? 1 : 0);
    simulator.set_lanes(ports_.input("mosi"), step.data);
    if (simulator.value("transmit_taken") != 0) set_random_byte(simulator, ports_, "transmit", random_);
  }
  void add_transfer() {
    script_.add({false, true, 0});
    script_.add({false, false, 0});
    for (unsigned i = 0; i < 4 * 8; ++i) {
      const Lanes data = random_();
      script_.add({false, false, data});
      script_.add({true, false, data});
    }
    script_.add({false, false, 0});
  }

  TwoLineScript script_{spi_step_clocks};
};

class SpiControllerTraffic : public Traffic {
 public:
  using Traffic::Traffic;

 private:
  void set_up(Simulator& simulator) override { simulator.set("divider", spi_divider); }
  void step(Simulator& simulator, std::uint64_t) override {
    if (!is_active()) return;
    const bool is_free = simulator.value("busy") == 0;
    simulator.set("start", is_free ? 1 : 0);
    if (is_free) {
      simulator.set("last", bytes_ % 4 == 3 ? 1 : 0);
      set_random_byte(simulator, ports_, "transmit", random_);
      ++bytes_;
    }
    const bool sck = simulator.value("sck") != 0;
    if (was_high_ && !sck) simulator.set_lanes(ports_.input("miso"), random_());
    was_high_ = sck;
  }

  unsigned bytes_ = 0;
  bool was_high_ = false;
};

class UartTraffic : public Traffic {
 public:
  UartTraffic(UartDirection direction, TrafficState state, std::uint64_t seed)
      : Traffic(state, seed), direction_(direction) {}

 private:
  void set_up(Simulator& simulator) override {
    simulator.set("divider", uart_clocks_per_bit / 16 - 1);
    if (direction_ != UartDirection::encode) simulator.set("rxd", 1);
  }
  void step(Simulator& simulator, std::uint64_t clock) override {
    if (!is_active()) return;
    if (direction_ != UartDirection::decode) {
      const bool is_free = simulator.value("transmit_ready") != 0;
      simulator.set("transmit_valid", is_free ? 1 : 0);
      if (is_free) set_random_byte(simulator, ports_, "transmit", random_);
    }
    if (direction_ == UartDirection::encode) return;
    simulator.set("received_take", simulator.value("received_valid"));
    if (clock % uart_clocks_per_bit != 0) return;
    const std::uint64_t bit = clock / uart_clocks_per_bit % 10;
    simulator.set_lanes(ports_.input("rxd"), bit == 0 ? 0 : bit == 9 ? all_lanes : random_());
  }

  UartDirection direction_;
};

std::shared_ptr<Traffic> make_traffic(const HostInterfaceShape& shape, TrafficState state,
                                      std::uint64_t seed) {
  const bool is_target = shape.role == HostRole::target;
  switch (shape.bus) {
    case HostBus::i2c:
      if (is_target) return std::make_shared<I2cTargetTraffic>(state, seed);
      return std::make_shared<I2cControllerTraffic>(state, seed);
    case HostBus::spi:
      if (is_target) return std::make_shared<SpiTargetTraffic>(state, seed);
      return std::make_shared<SpiControllerTraffic>(state, seed);
    case HostBus::uart:
      break;
  }
  return std::make_shared<UartTraffic>(shape.direction, state, seed);
}

}  // namespace

double traffic_clocks_per_byte(const HostInterfaceShape& shape) {
  const bool is_target = shape.role == HostRole::target;
  switch (shape.bus) {
    case HostBus::i2c:
      return 9.0 * (is_target ? i2c_steps_per_bit * i2c_step_clocks
                              : i2c_controller_steps_per_bit * (i2c_rate + 1));
    case HostBus::spi:
      return 8.0 * 2 * (is_target ? spi_step_clocks : spi_divider + 1);
    case HostBus::uart:
      break;
  }
  return 10.0 * uart_clocks_per_bit;
}

Drive host_interface_traffic(const HostInterfaceShape& shape, TrafficState state, std::uint64_t seed) {
  return [traffic = make_traffic(shape, state, seed)](Simulator& simulator, std::uint64_t clock) {
    traffic->drive(simulator, clock);
  };
}

}  // namespace portweigh::blocks

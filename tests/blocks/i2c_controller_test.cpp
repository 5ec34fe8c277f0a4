// The I2C controller against a plain model of a target that watches the lines.
#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "blocks/host_interface.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned target_address = 0x51;

// A memory of 256 bytes on the bus: edge-driven, stretches SCL after each acknowledge if asked to.
class TargetModel {
 public:
  std::vector<unsigned> memory = std::vector<unsigned>(256, 0);
  unsigned stretch_clocks = 0;
  unsigned starts = 0;
  unsigned stops = 0;

  bool pulls_sda() const { return pulls_sda_; }
  bool pulls_scl() const { return stretch_left_ > 0; }

  void see(bool scl, bool sda) {
    if (stretch_left_ > 0) --stretch_left_;
    if (scl && scl_ && sda_ && !sda) begin();
    if (scl && scl_ && !sda_ && sda) end();
    if (scl && !scl_) rise(sda);
    if (!scl && scl_) fall();
    scl_ = scl;
    sda_ = sda;
  }

 private:
  enum class Mode : std::uint8_t { asleep, address, pointer, store, fetch };

  void begin() {
    ++starts;
    mode_ = Mode::address;
    bits_ = -1;  // the fall that follows is no bit
    byte_ = 0;
    pulls_sda_ = false;
  }
  void end() {
    ++stops;
    mode_ = Mode::asleep;
    pulls_sda_ = false;
  }
  void rise(bool sda) {
    if (mode_ == Mode::asleep) return;
    if (bits_ < 8 && mode_ != Mode::fetch) byte_ = byte_ << 1U | (sda ? 1U : 0U);
    if (bits_ == 8 && mode_ == Mode::fetch && sda) mode_ = Mode::asleep;
  }
  void fall() {
    pulls_sda_ = false;
    if (mode_ == Mode::asleep) return;
    ++bits_;
    if (bits_ == 8) {
      pulls_sda_ = acknowledges();
    } else if (bits_ == 9) {
      bits_ = 0;
      next_byte();
      stretch_left_ = stretch_clocks;
    }
    if (mode_ == Mode::fetch && bits_ < 8) pulls_sda_ = ((byte_ >> (7 - bits_)) & 1U) == 0;
  }
  bool acknowledges() {
    switch (mode_) {
      case Mode::address:
        if (byte_ >> 1U == target_address) return true;
        mode_ = Mode::asleep;
        return false;
      case Mode::pointer:
        pointer_ = byte_;
        return true;
      case Mode::store:
        memory[pointer_++ % 256] = byte_;
        return true;
      default:
        return false;
    }
  }
  void next_byte() {
    if (mode_ == Mode::address) {
      mode_ = (byte_ & 1U) != 0 ? Mode::fetch : Mode::pointer;
    } else if (mode_ == Mode::pointer) {
      mode_ = Mode::store;
    }
    byte_ = mode_ == Mode::fetch ? memory[pointer_++ % 256] : 0;
  }

  Mode mode_ = Mode::asleep;
  int bits_ = 0;
  unsigned byte_ = 0;
  unsigned pointer_ = 0;
  unsigned stretch_left_ = 0;
  bool pulls_sda_ = false;
  bool scl_ = true;
  bool sda_ = true;
};

struct Bench {
  explicit Bench(unsigned prescaler) {
    simulator.set("scl", 1);
    simulator.set("sda", 1);
    write(I2cRegister::prescaler_low, prescaler & 0xFFU);
    write(I2cRegister::prescaler_high, prescaler >> 8U);
    write(I2cRegister::control, i2c_control::enable | i2c_control::interrupt_enable);
  }
  logic::Network network = i2c_controller_network();
  logic::Simulator simulator{network};
  TargetModel target;
  bool rival_pulls_sda = false;
  std::uint64_t clocks = 0;

  void clock() {
    const bool scl = simulator.value("scl_low") == 0 && !target.pulls_scl();
    const bool sda = simulator.value("sda_low") == 0 && !target.pulls_sda() && !rival_pulls_sda;
    target.see(scl, sda);
    simulator.set("scl", scl ? 1 : 0);
    simulator.set("sda", sda ? 1 : 0);
    simulator.clock();
    ++clocks;
  }
  void write(I2cRegister address, unsigned data) {
    simulator.set("address", static_cast<unsigned>(address));
    simulator.set("write_data", data);
    simulator.set("write", 1);
    clock();
    simulator.set("write", 0);
  }
  unsigned read(I2cRegister address) {
    simulator.set("address", static_cast<unsigned>(address));
    clock();
    return static_cast<unsigned>(simulator.value("read_data"));
  }
  unsigned status() { return read(I2cRegister::command); }
  // Runs one command to its end; the status after it.
  unsigned run(unsigned command) {
    write(I2cRegister::command, command | i2c_command::clear_interrupt);
    for (unsigned i = 0; i < 100'000; ++i) {
      clock();
      if (simulator.value("interrupt") != 0) return status();
    }
    FAIL("the command does not end");
    return 0;
  }
  // A stop passes the filters of the lines before the bus counts as free.
  bool becomes_free() {
    for (int i = 0; i < 200; ++i) {
      if ((status() & i2c_status::bus_busy) == 0) return true;
    }
    return false;
  }
  unsigned send(unsigned byte, unsigned extra = 0) {
    write(I2cRegister::data, byte);
    return run(i2c_command::write | extra);
  }
  void store(unsigned pointer, const std::vector<unsigned>& data) {
    REQUIRE((send(target_address << 1U, i2c_command::start) & i2c_status::refused) == 0);
    REQUIRE((send(pointer) & i2c_status::refused) == 0);
    for (std::size_t i = 0; i < data.size(); ++i) {
      REQUIRE((send(data[i], i + 1 == data.size() ? i2c_command::stop : 0) & i2c_status::refused) == 0);
    }
  }
  std::vector<unsigned> fetch(unsigned pointer, std::size_t count) {
    send(target_address << 1U, i2c_command::start);
    send(pointer);
    send(target_address << 1U | 1U, i2c_command::start);
    std::vector<unsigned> data;
    for (std::size_t i = 0; i < count; ++i) {
      run(i2c_command::read | (i + 1 == count ? i2c_command::stop | i2c_command::refuse : 0U));
      data.push_back(read(I2cRegister::data));
    }
    return data;
  }
};

}  // namespace

TEST_CASE("an I2C controller stores and fetches bytes, at several clocks") {
  std::mt19937_64 random(5);
  for (const unsigned prescaler : {9U, 16U, 31U}) {
    CAPTURE(prescaler);
    Bench bench(prescaler);
    for (int transfer = 0; transfer < 4; ++transfer) {
      std::vector<unsigned> data(1 + random() % 4);
      for (auto& byte : data) byte = static_cast<unsigned>(random() % 256);
      const auto pointer = static_cast<unsigned>(random() % 250);
      bench.store(pointer, data);
      for (std::size_t i = 0; i < data.size(); ++i) REQUIRE(bench.target.memory[pointer + i] == data[i]);
      REQUIRE(bench.fetch(pointer, data.size()) == data);
    }
    CHECK(bench.target.starts == 12);
    CHECK(bench.target.stops == 8);
    CHECK(bench.becomes_free());
  }
}

TEST_CASE("an I2C controller waits for a target that stretches the clock") {
  Bench quick(11);
  quick.store(7, {0xB4, 0x2D});
  Bench slow(11);
  slow.target.stretch_clocks = 500;
  slow.store(7, {0xB4, 0x2D});
  CHECK(slow.target.memory[7] == 0xB4);
  CHECK(slow.target.memory[8] == 0x2D);
  CHECK(slow.clocks > quick.clocks + 3 * 400);
  CHECK(slow.fetch(7, 2) == std::vector<unsigned>{0xB4, 0x2D});
}

TEST_CASE("an address that nobody answers is refused") {
  Bench bench(9);
  CHECK((bench.send(0x22U << 1U, i2c_command::start) & i2c_status::refused) != 0);
  CHECK((bench.status() & i2c_status::bus_busy) != 0);
  bench.run(i2c_command::stop);
  CHECK(bench.becomes_free());
  CHECK(bench.target.stops == 1);
}

TEST_CASE("a controller that loses the arbitration lets go of the lines") {
  Bench bench(9);
  bench.write(I2cRegister::data, 0xFE);
  bench.write(I2cRegister::command, i2c_command::start | i2c_command::write | i2c_command::clear_interrupt);
  while (bench.simulator.value("scl_low") == 0) bench.clock();  // the start condition is over
  bench.rival_pulls_sda = true;
  for (int i = 0; i < 400 && bench.simulator.value("interrupt") == 0; ++i) bench.clock();
  CHECK((bench.status() & i2c_status::arbitration_lost) != 0);
  CHECK((bench.status() & i2c_status::in_progress) == 0);
  CHECK(bench.simulator.value("sda_low") == 0);
  CHECK(bench.simulator.value("scl_low") == 0);
  bench.rival_pulls_sda = false;
  for (int i = 0; i < 60; ++i) bench.clock();
  bench.store(1, {0x66});
  CHECK((bench.status() & i2c_status::arbitration_lost) == 0);
  CHECK(bench.target.memory[1] == 0x66);
}

TEST_CASE("an SCL period is five phases of the prescaler") {
  Bench bench(99);
  bench.write(I2cRegister::data, 0x00);
  bench.write(I2cRegister::command, i2c_command::start | i2c_command::write);
  std::vector<std::uint64_t> falls;
  bool was_low = false;
  while (falls.size() < 6) {
    bench.clock();
    const bool is_low = bench.simulator.value("scl_low") != 0;
    if (is_low && !was_low) falls.push_back(bench.clocks);
    was_low = is_low;
  }
  const auto period = static_cast<double>(falls[5] - falls[1]) / 4;
  // The filter's majority delays the release by up to three quarters of a phase.
  CHECK(period >= 500);
  CHECK(period <= 500 + 85);
}

}  // namespace portweigh::blocks

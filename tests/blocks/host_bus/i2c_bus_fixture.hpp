// An open-drain bus for tests of I2C blocks: who else may be on it, and what a watcher measures. Written from
// the I2C-bus specification (public) alone; nothing here knows the blocks.
//
// All models take the levels of the wires once a clock with `see` and say what they pull low. A line is low
// where anybody pulls it.
#pragma once

#include <cstdint>
#include <vector>

namespace portweigh::blocks {

struct Wires {
  bool scl = true;
  bool sda = true;
};

// A condition is a change of SDA while SCL is high.
inline bool is_start(Wires before, Wires now) {
  return before.scl && now.scl && before.sda && !now.sda;
}
inline bool is_stop(Wires before, Wires now) {
  return before.scl && now.scl && !before.sda && now.sda;
}

// Shortest times on the wires, in clocks, by the specification's names.
class BusWatch {
 public:
  static constexpr unsigned never = ~0U;
  unsigned starts = 0, stops = 0;
  unsigned low = never, high = never, period = never, longest_period = 0;
  unsigned start_set_up = never, start_hold = never, stop_set_up = never, bus_free = never;
  unsigned data_set_up = never;

  void see(Wires now);

 private:
  void see_data_edge(Wires now);
  void see_clock_edge(Wires now);

  Wires before_;
  unsigned clock_ = 0;
  unsigned scl_edge_ = 0, sda_edge_ = 0, scl_fall_ = 0;
  unsigned stop_ = 0;
  bool is_held_ = false;        // between a start and a stop
  bool after_start_ = false;    // until SCL falls
  bool is_bit_before_ = false;  // the fall of SCL before this one began a bit
};

// A memory of 256 bytes: first byte written is the place, which counts up. May hold SCL low after each
// acknowledge or after each bit, and refuse bytes to be stored after some.
class MemoryTarget {
 public:
  explicit MemoryTarget(unsigned address) : address_(address) {}
  std::vector<unsigned> memory = std::vector<unsigned>(256, 0);
  unsigned stretch_after_byte = 0;  // clocks
  unsigned stretch_after_bit = 0;
  unsigned accepts = ~0U;  // bytes of a transfer beyond the place

  bool pulls_scl() const { return stretch_left_ > 0; }
  bool pulls_sda() const { return pulls_sda_; }
  void see(Wires now);

 private:
  enum class Mode : std::uint8_t { asleep, address, place, store, fetch };
  void see_fall();
  bool accepts_byte();
  void go_on();

  unsigned address_;
  Mode mode_ = Mode::asleep;
  Wires before_;
  int bit_ = 0;  // of the byte; -1 before the first fall after a start
  unsigned byte_ = 0, place_ = 0, stored_ = 0, stretch_left_ = 0;
  bool pulls_sda_ = false;
};

// Another controller that writes one message: begins where the bus is free, counts its own low and high times
// from the common SCL, gives up where a released SDA reads low.
class RivalController {
 public:
  struct Timing {
    unsigned low, high;  // clocks
  };
  enum class State : std::uint8_t { idle, waits, hold, low, high, stop, done, beaten };
  explicit RivalController(Timing timing) : timing_(timing) {}

  void write(std::vector<unsigned> message) {  // begins after a whole bus-free time
    message_ = std::move(message);
    enter(State::waits);
  }
  State state() const { return state_; }
  bool pulls_scl() const { return pulls_scl_; }
  bool pulls_sda() const { return pulls_sda_; }
  void see(Wires now);

 private:
  void enter(State state) {
    state_ = state;
    clocks_ = 0;
  }
  void begin_low();
  void end_high();
  bool bit_to_send() const { return bit_ % 9 == 8 || ((message_[bit_ / 9] >> (7 - bit_ % 9)) & 1U) != 0; }
  bool is_over() const { return bit_ == message_.size() * 9; }

  Timing timing_;
  State state_ = State::idle;
  std::vector<unsigned> message_;
  std::size_t bit_ = 0;  // nine a byte
  unsigned clocks_ = 0;  // in this state
  bool is_free_ = true, last_seen_ = true;
  Wires before_;
  bool pulls_scl_ = false, pulls_sda_ = false;
};

}  // namespace portweigh::blocks

#include "i2c_bus_fixture.hpp"

#include <algorithm>

namespace portweigh::blocks {
namespace {

void lower(unsigned& shortest, unsigned clocks) {
  shortest = std::min(shortest, clocks);
}

}  // namespace

void BusWatch::see(Wires now) {
  ++clock_;
  if (now.sda != before_.sda) see_data_edge(now);
  if (now.scl != before_.scl) see_clock_edge(now);
  before_ = now;
}

void BusWatch::see_data_edge(Wires now) {
  sda_edge_ = clock_;
  if (is_start(before_, now)) {
    if (is_held_) lower(start_set_up, clock_ - scl_edge_);
    if (!is_held_ && stops > 0) lower(bus_free, clock_ - stop_);
    ++starts;
    is_held_ = after_start_ = true;
  }
  if (is_stop(before_, now)) {
    lower(stop_set_up, clock_ - scl_edge_);
    stop_ = clock_;
    ++stops;
    is_held_ = is_bit_before_ = false;
  }
}

void BusWatch::see_clock_edge(Wires now) {
  const unsigned clocks = clock_ - scl_edge_;
  scl_edge_ = clock_;
  if (now.scl) {
    lower(low, clocks);
    lower(data_set_up, clock_ - sda_edge_);
    return;
  }
  if (after_start_) {
    lower(start_hold, clock_ - sda_edge_);
  } else {
    lower(high, clocks);
    if (is_bit_before_) {
      lower(period, clock_ - scl_fall_);
      longest_period = std::max(longest_period, clock_ - scl_fall_);
    }
  }
  is_bit_before_ = true;
  after_start_ = false;
  scl_fall_ = clock_;
}

void MemoryTarget::see(Wires now) {
  if (stretch_left_ > 0) --stretch_left_;
  if (is_start(before_, now)) {
    mode_ = Mode::address;
    bit_ = -1;
    byte_ = 0;
    pulls_sda_ = false;
  }
  if (is_stop(before_, now)) {
    mode_ = Mode::asleep;
    pulls_sda_ = false;
  }
  const bool rises = now.scl && !before_.scl;
  if (rises && mode_ != Mode::asleep) {
    if (bit_ < 8 && mode_ != Mode::fetch) byte_ = byte_ << 1U | (now.sda ? 1U : 0U);
    if (bit_ == 8 && mode_ == Mode::fetch && now.sda) mode_ = Mode::asleep;  // enough, says the reader
  }
  if (!now.scl && before_.scl) see_fall();
  before_ = now;
}

void MemoryTarget::see_fall() {
  pulls_sda_ = false;
  if (mode_ == Mode::asleep) return;
  ++bit_;
  if (bit_ > 0) stretch_left_ = stretch_after_bit;
  if (bit_ == 8) {
    pulls_sda_ = mode_ != Mode::fetch && accepts_byte();
  } else if (bit_ == 9) {
    bit_ = 0;
    go_on();
    stretch_left_ = std::max(stretch_after_byte, stretch_after_bit);
  }
  if (mode_ == Mode::fetch && bit_ < 8) pulls_sda_ = ((byte_ >> (7 - bit_)) & 1U) == 0;
}

bool MemoryTarget::accepts_byte() {
  const bool accepted = mode_ == Mode::address ? byte_ >> 1U == address_
                        : mode_ == Mode::store ? stored_ < accepts
                                               : true;
  if (mode_ == Mode::place) {
    place_ = byte_;
    stored_ = 0;
  }
  if (mode_ == Mode::store && accepted) {
    memory[place_++ % 256] = byte_;
    ++stored_;
  }
  if (!accepted) mode_ = Mode::asleep;
  return accepted;
}

void MemoryTarget::go_on() {
  if (mode_ == Mode::address) {
    mode_ = (byte_ & 1U) != 0 ? Mode::fetch : Mode::place;
  } else if (mode_ == Mode::place) {
    mode_ = Mode::store;
  }
  byte_ = mode_ == Mode::fetch ? memory[place_++ % 256] : 0;
}

void RivalController::see(Wires now) {
  ++clocks_;
  if (is_start(before_, now)) is_free_ = false;
  if (is_stop(before_, now)) is_free_ = true;
  if (state_ == State::waits && (!is_free_ || is_stop(before_, now))) clocks_ = 0;
  const bool falls = before_.scl && !now.scl;
  before_ = now;
  switch (state_) {
    case State::waits:
      if (clocks_ < timing_.low) return;
      pulls_sda_ = true;
      bit_ = 0;
      enter(State::hold);
      return;
    case State::hold:
      if (clocks_ >= timing_.high || falls) begin_low();
      return;
    case State::low:
      if (clocks_ == timing_.low / 4) pulls_sda_ = is_over() || !bit_to_send();
      if (clocks_ < timing_.low) return;
      pulls_scl_ = false;
      enter(is_over() ? State::stop : State::high);
      return;
    case State::high:
      if (falls) return end_high();
      if (!now.scl) clocks_ = 0;
      if (now.scl) last_seen_ = now.sda;
      if (now.scl && bit_ % 9 != 8 && bit_to_send() && !now.sda) {
        enter(State::beaten);
        return;
      }
      if (clocks_ >= timing_.high) end_high();
      return;
    case State::stop:
      if (!now.scl) clocks_ = 0;
      if (clocks_ < timing_.high) return;
      pulls_sda_ = false;
      enter(State::done);
      return;
    default:
      return;
  }
}

void RivalController::begin_low() {
  pulls_scl_ = true;
  enter(State::low);
}

void RivalController::end_high() {
  const bool is_refused = bit_ % 9 == 8 && last_seen_;
  if (is_refused) message_.resize(bit_ / 9 + 1);  // nothing more to send: stop
  ++bit_;
  begin_low();
}

}  // namespace portweigh::blocks

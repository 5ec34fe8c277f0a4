// Kind "pulse-width": channels of pulse-width modulation on a shared counter.
//
// With n bits a period is 2^n enabled clocks; a channel is high while the counter is below its duty value, so
// its share of high time is duty / 2^n, from 0 to 1 - 2^-n. Duty values are double-buffered: what is written
// during a period takes effect at the next, so that no pulse is cut. Example: 8 bits, duty 64: one quarter.
// In firmware a tick is one step of the counter; with compare outputs the tick is the end of a period, and
// only changed duty values are handed to the peripheral.
// Tested by tests/blocks/pins/pulse_width_test.cpp.
#pragma once

#include <cstdint>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"

namespace portweigh::blocks {

struct PulseWidthShape {
  unsigned channels = 4;
  unsigned bits = 8;
};

logic::Network pulse_width_network(const PulseWidthShape& shape);
// Arrays `duty` (written by the application) and `active`; port `level`, one bit a channel.
firmware::Routine pulse_width_step_routine(const PulseWidthShape& shape);
// Array `duty`, state `changed` (a mask); ports `compare0`, `compare1`, ...
firmware::Routine pulse_width_update_routine(const PulseWidthShape& shape);

Kind pulse_width_kind();

}  // namespace portweigh::blocks

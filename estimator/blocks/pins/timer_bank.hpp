// Kind "timer-bank": one-shot timers that share a prescaler.
//
// A timer is started with a value from a shared bus, counts down at every tick and raises its flag at the
// tick that takes it to zero; starting or stopping it lowers the flag. With t the clock period, a value n
// (at least 1) expires after n * 2^prescaler_bits * t, less what the prescaler had already counted.
// Example: 8 prescaler bits at 12 MHz give a tick of 21.3 us; 1407 ticks are the 30 ms of a response timer.
// In firmware the tick is an interrupt and the timers are an array that is walked; or, where a timer of the part
// can compare, nothing happens until the next deadline.
// Tested by tests/blocks/pins/timer_bank_test.cpp.
#pragma once

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"

namespace portweigh::blocks {

struct TimerBankShape {
  unsigned timers = 8;
  unsigned bits = 16;
  unsigned prescaler_bits = 8;
};

logic::Network timer_bank_network(const TimerBankShape& shape);
// One event is one tick; returns the mask of timers that have just expired. The array `timers` holds what
// remains, 0 where a timer does not run: starting and stopping is writing it.
firmware::Routine timer_bank_routine(const TimerBankShape& shape);
// One event starts timer `timer` with `value` ticks (below half of the range of the variable that holds it; 0 stops it), or with
// `timer` = the number of timers only looks which have expired. Time comes from the free-running port `time`;
// port `compare` is set to the next deadline. Returns the mask of timers that have just expired.
firmware::Routine next_deadline_routine(const TimerBankShape& shape);

Kind timer_bank_kind();

}  // namespace portweigh::blocks

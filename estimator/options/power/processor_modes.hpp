// Whether a microcontroller may stop its clock while a cable is attached and the line is quiet.
//
// It may if it wakes within the preamble of a message: `preamble_bits_to_wake` of its bits may be lost, the
// rest is enough to find the start. Chosen: three quarters of a preamble of 64 alternating bits (USB Power
// Delivery); 16 bits remain to recover the clock. Example: 48 bits at 330 kb/s are 145 us; parts of this
// class wake in 4 to 20 us (common practice). Tested through tests/options/search/consider_test.cpp.
#pragma once

#include "parts/microcontroller.hpp"
#include "study/function.hpp"

namespace portweigh::options {

inline constexpr double preamble_bits_to_wake = 48;

inline bool wakes_within_preamble(const parts::Microcontroller& part, const study::Timing& timing) {
  return part.wake_up.range.high < preamble_bits_to_wake / timing.bit_rate.range.high;
}

}  // namespace portweigh::options

// Kind "pins": general-purpose pins, debounced inputs and outputs with a direction each.
//
// An input passes two registers against metastability; its value follows when the pin has differed from it
// for 2^debounce_bits ticks in a row (at once with 0 bits), and its change flag then stays up until cleared.
// Example: 4 bits and a tick of 1 ms accept a button after 16 ms without a bounce.
// In firmware the counters of all lines lie across the bits of a few words, one word for each counter bit
// ("vertical counters"), so that a tick costs the same for one line and for a whole port.
// Tested by tests/blocks/pins/pins_test.cpp.
#pragma once

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"

namespace portweigh::blocks {

struct PinsShape {
  unsigned lines = 8;
  unsigned debounce_bits = 4;
};

logic::Network pins_network(const PinsShape& shape);
// One event is one tick. Port `pin_in`; states `value` and `changed`; returns the lines that just changed.
firmware::Routine pins_routine(const PinsShape& shape);

Kind pins_kind();

}  // namespace portweigh::blocks

// Kind "line-code": bits to transitions on a wire and back.
//
//   biphase-mark  a transition at each bit boundary, one in the middle for a 1
//   manchester    a transition in each middle, rising for a 1 (IEEE 802.3 sense)
//   nrzi          a transition at the boundary for a 0, none for a 1
//   nrz           the level is the bit
// The decoder samples the line `oversampling` times a bit, measures intervals between transitions
// (biphase-mark, manchester) or samples half a bit after the last one (nrzi, nrz: a digital phase lock), and
// tells when the line falls silent. The encoder is stepped by a tick: each half cell for biphase-mark and
// manchester, each bit for the others.
// Example: biphase-mark at 8 samples a bit: intervals of 3..5 samples are half cells, 6..12 whole ones.
// Source: common practice of digital receivers; codes as in IEEE 802.3 and the open specification of USB
// power delivery. Tested by tests/blocks/line/line_code_test.cpp and line_code_routine_test.cpp.
#pragma once

#include <cstdint>
#include <string_view>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"

namespace portweigh::blocks {

enum class LineCode : std::uint8_t { biphase_mark, manchester, nrzi, nrz };

LineCode line_code(const Settings& settings);
LineFacts facts_of(LineCode code);
// Ticks of the encoder for each bit: 2 where the code has transitions in mid-bit, else 1.
unsigned half_cells(LineCode code);

// Inputs reset, enable (a sample each enabled clock), line. Outputs bit, bit_valid, carrier, and violation
// for the codes that can see one.
logic::Network line_decoder(LineCode code, unsigned oversampling);
// Inputs reset, enable (the tick), transmit, data. Outputs line, line_enable, and ready: the data bit is
// taken at an enabled clock with transmit and ready.
logic::Network line_encoder(LineCode code);

// Limits of intervals in units of bit / resolution. `three_quarters` parts half cells from whole ones;
// `longest` is the last interval accepted as a whole cell.
struct IntervalLimits {
  unsigned three_quarters = 0;
  unsigned longest = 0;
};
IntervalLimits interval_limits(LineCode code, unsigned resolution);

// Counts of the time-stamp timer for each bit, in all routines.
inline constexpr unsigned timer_counts_per_bit = 48;
inline constexpr unsigned line_queue_bytes = 32;
// Edges a batch of the capture-dma method holds.
inline constexpr unsigned edges_per_batch = 16;
// Bits without a transition after which nrzi and nrz lines count as silent.
inline constexpr unsigned silent_bits = 15;

// One edge; time from port `timer` (per-edge) or `capture`; level from port `pin`. capture-dma: parameter
// `count`, that many stamps in array `stamps`; the level is followed from edge to edge in `level`. polled: as many
// edges as `count` says, for each of which it watches `pin` and then reads `timer`.
// Bytes, first bit lowest, go to the ring `queue` at `head`; `violations` counts.
firmware::Routine line_decode_routine(LineCode code, std::string_view method);

// One half cell (bit for nrzi, nrz): drives port `output` (timer-interrupt), or sets the next action of port
// `action` and moves port `compare` on (timer-compare). bit-serial-port: one byte of eight half cells to port
// `data`. Bytes come from the ring `queue` from `tail` to `head`; `active` falls when it is empty.
firmware::Routine line_encode_routine(LineCode code, std::string_view method);

Kind line_code_kind();

}  // namespace portweigh::blocks

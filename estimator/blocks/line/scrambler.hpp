// Kind "scrambler": a linear feedback shift register that whitens a bit stream, several bits a clock.
//
//   additive             out[n] = data[n] ^ s[n],  s[n] = xor of s[n - t] over the taps t
//   self-synchronising   encode: out[n] = data[n] ^ xor of out[n - t];  decode: the same over the input
//
// The taps are the exponents of the polynomial without its constant term; the leading term x^width is
// implied, as for a CRC. The register starts with all ones. Bits are taken least significant first.
// Example: width 7, polynomial 0x11 (x^7 + x^4 + 1) over zeros gives 0000 1110 1111 0010 1100 1001 ...
// Source: shift-register recurrences after S. W. Golomb, "Shift Register Sequences" (1967); settings and
// start values as commonly practised.
// Tested by tests/blocks/line/scrambler_test.cpp.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"

namespace portweigh::blocks {

enum class ScramblerStyle : std::uint8_t { additive, self_synchronising_encode, self_synchronising_decode };

struct ScramblerCode {
  unsigned width = 16;
  std::uint64_t polynomial = 0x39;  // bit i: term x^i; the leading term is implied, the constant one required
  ScramblerStyle style = ScramblerStyle::additive;

  // Exponents of the terms, constant one left out, ascending; the last is `width`.
  std::vector<unsigned> taps() const;
};

// Throws SettingError where the polynomial does not fit the width or has no constant term.
ScramblerCode scrambler_code(const Settings& settings);

// How many bits of a byte the routine can make at once: 1 (bitwise), or the largest of 1, 2, 4, 8 that does
// not reach past the shortest tap (parallel).
unsigned scrambler_chunk(const ScramblerCode& code, std::string_view method);

// Takes `byte`, returns the scrambled byte. State: `register_low`, and `register_high` above 32 bits, with
// the oldest bit at the bottom.
firmware::Routine scrambler_routine(const ScramblerCode& code, std::string_view method);

Kind scrambler_kind();

}  // namespace portweigh::blocks

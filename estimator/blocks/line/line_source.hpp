// Plain traffic for line codes: framed random bits and the levels they put on the wire.
//
// A frame is a preamble of 64 alternating bits and 365 random ones (the longest message of the power-delivery
// protocol has 429 bits); frames follow one another without pause. For nrzi and nrz the random bits carry a
// forced transition after six bits without one, as their framing does by bit stuffing.
// Example: biphase-mark bits 0, 1 from level 0: half cells 1 1, 0 1.
// Tested by tests/blocks/line/line_code_test.cpp: the decoders recover the bits.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "blocks/line/line_code.hpp"

namespace portweigh::blocks {

class LineSource {
 public:
  LineSource(LineCode code, std::uint64_t seed) : code_(code), random_(seed) {}

  // Level over the next half bit.
  bool next_half();
  // Bits whose first half has been taken.
  const std::vector<bool>& bits() const { return bits_; }

 private:
  bool next_bit();
  bool forced_transition() const;

  LineCode code_;
  std::mt19937_64 random_;
  std::vector<bool> bits_;
  bool level_ = false;
  bool is_middle_ = false;
};

}  // namespace portweigh::blocks

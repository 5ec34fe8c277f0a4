// Kind "bit-stuffing": an extra bit after `run` equal bits keeps transitions in the stream.
//
//   insert = zero         after `run` ones a 0 is inserted (framing with flags, universal serial ports)
//   insert = complement   after `run` equal bits the opposite one; the inserted bit counts for the next run
//
// The encoder takes a bit at each `enable` while `ready`, and stalls its source for the inserted one; `raw`
// passes a bit unstuffed (flags). The decoder drops inserted bits and raises `violation` for bit run + 1.
// Example: run 5, zero: 0 11111 1 0 goes out as 0 11111 0 1 0.
// Source: ISO/IEC 13239 (zero insertion), ISO 11898 (complement), from memory and common practice.
// Tested by tests/blocks/line/bit_stuffing_test.cpp.
#pragma once

#include <cstdint>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"

namespace portweigh::blocks {

enum class Direction : std::uint8_t { encode, decode };
enum class Insertion : std::uint8_t { zero, complement };

struct BitStuffing {
  unsigned run = 5;
  Insertion insertion = Insertion::zero;
  Direction direction = Direction::encode;
};

BitStuffing bit_stuffing(const Settings& settings);
logic::Network bit_stuffing_network(const BitStuffing& code);

// Takes `byte` (first bit lowest). Whole bytes of the outgoing stream go to the ring `queue` of 32 bytes at
// `head`. The decoder returns 1 where a violation was met in this byte.
firmware::Routine bit_stuffing_routine(const BitStuffing& code);

Kind bit_stuffing_kind();

}  // namespace portweigh::blocks

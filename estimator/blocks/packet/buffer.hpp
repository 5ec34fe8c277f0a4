// Kind "buffer": a queue of words in RAM, on request one that takes and gives whole packets.
//
// Plain: write and read pointers and a level; a write while full and a read while empty change nothing but
// set `overflow` and `underflow`, which stay until reset (common practice); the word asked for by `read` is
// there one clock later, marked by `read_valid`. Packets: a receiver does not know that a message is right
// before its check value, and a sender must keep a message until it is acknowledged. So words written become
// visible at `commit` and are forgotten at `abandon`; words read free their room at `release` and are read
// again after `repeat`. Two more pointers and no level. Example: 64 words of 8 bits hold a received and a
// sent policy message of 30 bytes each. In firmware it is the usual ring between an interrupt and a task,
// with indices that run freely where the number of words is a power of two. Tested by
// tests/blocks/packet/buffer_test.cpp.
#pragma once

#include <cstdint>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"

namespace portweigh::blocks {

enum class BufferStyle : std::uint8_t { plain, packets };

struct BufferShape {
  unsigned words = 64;
  unsigned bits = 8;
  BufferStyle style = BufferStyle::plain;

  bool is_power_of_two() const { return (words & (words - 1)) == 0; }
  unsigned address_bits() const;
};

logic::Network buffer_network(const BufferShape& shape);

// What one event of the routine does: put a word and get a word, or what its argument `operations` says
// (bit 0 put, bit 1 get, bit 2 put refused, bit 3 get refused in the value returned).
enum class BufferEvent : std::uint8_t { put_and_get, chosen };
// Arguments: [operations,] word (and its bits above 32). States: indices `head`, `tail`, and for packets
// `committed`, `released`, which the message layer moves. Locals `taken` and `taken_high`: the word got.
firmware::Routine buffer_routine(const BufferShape& shape, BufferEvent event);

Kind buffer_kind();

}  // namespace portweigh::blocks

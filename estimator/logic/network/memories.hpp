// Memories too small for a RAM block: registers, read multiplexers and write decoders instead.
//
// Each word becomes registers enabled by (write enable AND address == word); a later write port wins over an
// earlier one at the same word. A combinational read is a multiplexer tree over the words, a registered read
// that multiplexer followed by registers. Contents become the registers' reset values. Example: 4 words of
// 8 bits are 32 registers, 4 enables and 8 four-way multiplexers.
//
// Tested by tests/logic/network/memories_test.cpp.
#pragma once

#include <cstdint>
#include <functional>

#include "logic/network/network.hpp"

namespace portweigh::logic {

inline std::uint64_t memory_bits(const Memory& memory) {
  return std::uint64_t{memory.words} * memory.bits;
}

// Copy of the network in which the memories that `is_expanded` picks are built of registers.
// Memories never written become constant tables.
Network memories_to_registers(const Network& network, const std::function<bool(const Memory&)>& is_expanded);

}  // namespace portweigh::logic

// From a cover to the cells of a fabric.
//
// A cell is one LUT and one register; a carry bit takes one cell with its register.
//   cells = LUTs + carry bits + carries brought out + registers that share no cell
// A register shares the cell of the LUT (or carry bit) that drives it if it is that LUT's only reader;
// otherwise it takes an empty cell. Example: a 4-bit shift register is 4 cells, a toggle flip-flop 1.
// Enable and reset signals cost the LUTs that make them; the distinct pairs are the control sets.
// Memories: those of `smallest_ram_bits` or more whose reads are all registered count as RAM bits and blocks
// (fewest blocks over the shapes). The others, and those read combinationally, which block RAM can't do,
// become registers and multiplexers. Where no part is given yet, a fabric with reads of any style counts all
// memories as RAM bits.
//
// Tested by tests/logic/cover/pack_test.cpp.
#pragma once

#include <cstdint>
#include <vector>

#include "logic/cover/cover.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {

struct RamShape {
  std::uint32_t words = 0;
  std::uint32_t bits = 0;
};

enum class RamReads : std::uint8_t { registered, any };

struct Fabric {
  unsigned lut_inputs = 4;
  CarryChain carry_chain = CarryChain::dedicated;
  RegisterStyle register_style = RegisterStyle::with_enable_and_reset;
  std::vector<RamShape> ram_shapes = {};  // empty: no block RAM
  std::uint64_t smallest_ram_bits = 512;  // memories below become registers
  RamReads ram_reads = RamReads::registered;
};

struct FabricCount {
  std::uint32_t cells = 0;
  std::uint32_t luts = 0;
  std::uint32_t registers = 0;
  std::uint32_t carry_bits = 0;
  std::uint32_t carries_brought_out = 0;
  std::uint32_t shared_cells = 0;  // LUT or carry bit with the register it drives
  std::uint32_t register_only_cells = 0;
  std::uint32_t control_sets = 0;  // distinct (enable, reset) pairs
  std::uint64_t ram_bits = 0;
  std::uint32_t ram_blocks = 0;
  unsigned levels = 0;
  unsigned longest_carry = 0;
};

// Cells of a cover alone; memories left in it count as RAM.
FabricCount pack(const Network& network, const Cover& cover, const Fabric& fabric);

struct Fitted {
  Network network;  // with small memories turned into registers
  Cover cover;      // of that network
  FabricCount count;
};
// Memories by the fabric's rules, cover, pack. Throws std::logic_error as `cover` does.
Fitted fit(const Network& network, const Fabric& fabric);

// The RAM blocks that fit() would count, without a cover.
std::uint32_t block_ram_of(const Network& network, const Fabric& fabric);

}  // namespace portweigh::logic

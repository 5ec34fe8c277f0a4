#include "logic/cover/pack.hpp"

#include <algorithm>
#include <limits>
#include <set>
#include <utility>

#include "logic/network/memories.hpp"

namespace portweigh::logic {
namespace {

std::uint32_t divide_up(std::uint64_t a, std::uint64_t b) {
  return static_cast<std::uint32_t>((a + b - 1) / b);
}

std::uint32_t blocks_for(const Memory& memory, const std::vector<RamShape>& shapes) {
  std::uint32_t fewest = std::numeric_limits<std::uint32_t>::max();
  for (const RamShape& shape : shapes) {
    fewest = std::min(fewest, divide_up(memory.words, shape.words) * divide_up(memory.bits, shape.bits));
  }
  return shapes.empty() ? 0 : fewest;
}

// Block RAM of real parts reads at a clock edge only, so a combinational read rules it out.
bool fits_block_ram(const Memory& memory, const Fabric& fabric) {
  const bool can_read = fabric.ram_reads == RamReads::any ||
                        std::all_of(memory.reads.begin(), memory.reads.end(), [](const MemoryReadPort& port) {
                          return port.style == ReadStyle::registered;
                        });
  return can_read && !fabric.ram_shapes.empty() && memory_bits(memory) >= fabric.smallest_ram_bits;
}

// Whether the register can sit in the cell that makes its next value.
bool shares_cell(const Cover& cover, const CoveredRegister& reg, const std::vector<std::uint32_t>& fanouts) {
  const std::uint32_t driver = reg.next.node();
  const SignalKind kind = cover.signals[driver].kind;
  return (kind == SignalKind::lut || kind == SignalKind::sum) && fanouts[driver] == 1;
}

}  // namespace

FabricCount pack(const Network& network, const Cover& cover, const Fabric& fabric) {
  FabricCount count;
  const std::vector<std::uint32_t> fanouts = cover.fanouts();
  for (const CoveredMemory& covered : cover.memories) {
    const Memory& memory = network.memories()[covered.index];
    count.ram_bits += memory_bits(memory);
    count.ram_blocks += blocks_for(memory, fabric.ram_shapes);
  }
  count.luts = static_cast<std::uint32_t>(cover.luts.size());
  count.registers = static_cast<std::uint32_t>(cover.registers.size());
  count.carry_bits = static_cast<std::uint32_t>(cover.carry_bits.size());
  for (const CarryBit& bit : cover.carry_bits) count.carries_brought_out += bit.carry_leaves_chain ? 1 : 0;
  std::set<std::pair<Literal, Literal>> control_sets;
  for (const CoveredRegister& reg : cover.registers) {
    control_sets.emplace(reg.enable, reg.reset);
    if (shares_cell(cover, reg, fanouts)) ++count.shared_cells;
  }
  count.register_only_cells = count.registers - count.shared_cells;
  count.control_sets = static_cast<std::uint32_t>(control_sets.size());
  count.cells = count.luts + count.carry_bits + count.carries_brought_out + count.register_only_cells;
  count.levels = cover.levels;
  count.longest_carry = cover.longest_carry;
  return count;
}

Fitted fit(const Network& network, const Fabric& fabric) {
  Network fitted = memories_to_registers(
      network, [&fabric](const Memory& memory) { return !fits_block_ram(memory, fabric); });
  Cover covered = cover(fitted, {.lut_inputs = fabric.lut_inputs,
                                 .carry_chain = fabric.carry_chain,
                                 .register_style = fabric.register_style});
  const FabricCount count = pack(fitted, covered, fabric);
  return {std::move(fitted), std::move(covered), count};
}

std::uint32_t block_ram_of(const Network& network, const Fabric& fabric) {
  std::uint32_t blocks = 0;
  for (const Memory& memory : network.memories()) {
    if (fits_block_ram(memory, fabric)) blocks += blocks_for(memory, fabric.ram_shapes);
  }
  return blocks;
}

}  // namespace portweigh::logic

#include "logic/simulation/transpose.hpp"

namespace portweigh::logic {

void transpose(std::array<std::uint64_t, 64>& rows) {
  std::uint64_t low_half = 0x00000000ffffffff;  // bits of the left block in each pair of blocks
  for (unsigned width = 32; width != 0; width /= 2, low_half ^= low_half << width) {
    for (unsigned row = 0; row < 64; row = ((row | width) + 1) & ~width) {
      const std::uint64_t swapped = ((rows[row] >> width) ^ rows[row | width]) & low_half;
      rows[row] ^= swapped << width;
      rows[row | width] ^= swapped;
    }
  }
}

}  // namespace portweigh::logic

// A matrix of 64 x 64 bits turned about its diagonal: words of 64 streams from lanes of 64 bits, and back.
//
//     bit j of rows[i] becomes bit i of rows[j]
// Blocks of 32 x 32 are swapped, then blocks of 16 within them, down to single bits. Source: Warren, Hacker's
// Delight, "Transposing a bit matrix", in the order of bits used here. Tested by
// tests/logic/simulation/transpose_test.cpp.
#pragma once

#include <array>
#include <cstdint>

namespace portweigh::logic {

void transpose(std::array<std::uint64_t, 64>& rows);

}  // namespace portweigh::logic

// Kinds without a working twin of their own: analogue parts, and counts the user brings along.
//
// Tested by tests/blocks/supplied/given_counts_test.cpp.
#pragma once

#include "blocks/kind.hpp"

namespace portweigh::blocks {

// Comparators, switches and references: no logic and no firmware, only pins and parts.
Kind analogue_front_end_kind();

// A block whose counts are already known, from a synthesis run or a compiled routine.
Kind measured_kind();

}  // namespace portweigh::blocks

// Netlist: a network the user brings along, as an AIGER or BLIF file.
//
// Tested by tests/blocks/supplied/netlist_test.cpp.
#pragma once

#include "blocks/kind.hpp"

namespace portweigh::blocks {

// Its network throws reading::InputError for a missing or malformed file, with line or byte offset, and
// reading::FileError for one that can't be read.
Kind netlist_kind();

}  // namespace portweigh::blocks

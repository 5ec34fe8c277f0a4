// Netlist: a network the user brings along, as an AIGER or BLIF file.
//
// Tested by tests/blocks/netlist_test.cpp.
#pragma once

#include "blocks/kind.hpp"

namespace portweigh::blocks {

Kind netlist_kind();

}  // namespace portweigh::blocks

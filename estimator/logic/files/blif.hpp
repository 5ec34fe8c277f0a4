// Reader and writer of BLIF: one flat model with .inputs, .outputs, .names and .latch.
//
// Clock and control of latches are ignored beyond the one clock of a network; an initial value of 1 becomes
// the register's reset value, everything else 0. Hierarchies (.subckt, several models) and .gate need a
// library: LogicFileError says to flatten or map to .names first. Signals may be used before they are
// defined.
//
// Malformed files: LogicFileError `file:line: what`. Format: Berkeley Logic Interchange Format, 1992.
// Tested by tests/logic/files/blif_test.cpp.
#pragma once

#include <string>
#include <string_view>

#include "logic/cover/cover.hpp"
#include "logic/files/logic_file.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {

Network parse_blif(std::string_view text, std::string_view file);
Network read_blif(const std::string& path);
// Enable and reset become logic in front of the latch. Throws std::logic_error for networks with memories.
std::string write_blif(const Network& network, std::string_view model);

}  // namespace portweigh::logic

// Netlist files: AIGER, ascii ("aag") and binary ("aig"), and BLIF become networks.
//
// AIGER, version 1.9 header and latches: inputs are named by the symbol table or i0, i1, ...; latches l0, ...;
// outputs o0, .... A latch becomes a register whose reset value is its initial value (an uninitialised latch
// starts at 0). Bad-state, constraint, justice and fairness properties are read and become outputs named b0,
// c0, .... The header is checked against the size of the file before anything is allocated.
// Format: A. Biere, "The AIGER And-Inverter Graph (AIG) Format", 2007, and "AIGER 1.9 and beyond", 2011.
//
// BLIF, one flat model with .inputs, .outputs, .names and .latch: clock and control of latches are ignored
// beyond the one clock of a network; an initial value of 1 becomes the register's reset value, everything else
// 0. Hierarchies (.subckt, several models) and .gate need a library: the error says to flatten or map to .names
// first. Signals may be used before they are defined. Format: Berkeley Logic Interchange Format, 1992.
//
// Tested by tests/logic/files/aiger_test.cpp and tests/logic/files/blif_test.cpp.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "logic/network/network.hpp"

namespace portweigh::logic {

// A malformed file. what() is `file:line:column: what`, `file: byte N: what`, or `file: what` without a place.
class LogicFileError : public std::runtime_error {
 public:
  struct Place {
    int line = 0;                                    // from 1; 0 if there is none
    int column = 0;                                  // from 1
    std::optional<std::size_t> byte = std::nullopt;  // offset in the binary part of an AIGER file
  };
  LogicFileError(std::string_view file, const Place& place, std::string_view what);

  const Place& place() const { return place_; }
  // Without file, line and column; the byte is in it.
  const std::string& message() const { return message_; }

 private:
  Place place_;
  std::string message_;
};

// All three throw LogicFileError for malformed texts; `file` is the name told.
Network parse_aiger(std::string_view text, std::string_view file);
Network parse_blif(std::string_view text, std::string_view file);
// Reads `path` as AIGER (by its first bytes, aag or aig, or its extension) or BLIF (extension .blif); also
// LogicFileError if it can't be read or is larger than 1 GB.
Network read_netlist(const std::string& path);

}  // namespace portweigh::logic

// Reader and writer of the AIGER format, ascii ("aag") and binary ("aig"), version 1.9 header and latches.
//
// Inputs are named by the symbol table or i0, i1, ...; latches l0, ...; outputs o0, .... A latch becomes a
// register whose reset value is its initial value (an uninitialised latch starts at 0). Bad-state,
// constraint, justice and fairness properties are read and become outputs named b0, c0, .... XOR gates are
// recovered from the three ANDs that make them.
//
// Malformed files: LogicFileError with file, line (ascii) or byte offset (binary). The header is checked
// against the size of the file before anything is allocated.
// Format: A. Biere, "The AIGER And-Inverter Graph (AIG) Format", 2007, and "AIGER 1.9 and beyond", 2011.
// Tested by tests/logic/files/aiger_test.cpp.
#pragma once

#include <string>
#include <string_view>

#include "logic/files/logic_file.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {

enum class AigerForm : std::uint8_t { ascii, binary };

Network parse_aiger(std::string_view text, std::string_view file);
Network read_aiger(const std::string& path);
// XORs are written as three ANDs; enable and reset become logic in front of the latch. Throws
// std::logic_error for networks with memories.
std::string write_aiger(const Network& network, AigerForm form);

}  // namespace portweigh::logic

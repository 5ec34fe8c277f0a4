// Variables of a routine by the number of bits they must hold: 8, 16 or 32, the narrowest that does.
//
// Example: sized_state(routine, "count", 12) is a 16-bit variable. More than 32 bits: std::logic_error.
// Tested by tests/blocks/sized_variables_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "firmware/routine.hpp"

namespace portweigh::blocks {

// 8, 16 or 32.
unsigned variable_bits(unsigned bits);

firmware::Place sized_local(firmware::Routine& routine, const std::string& name, unsigned bits);
firmware::Place sized_state(firmware::Routine& routine, const std::string& name, unsigned bits);
firmware::Place sized_parameter(firmware::Routine& routine, const std::string& name, unsigned bits);
firmware::Place sized_port(firmware::Routine& routine, const std::string& name, unsigned bits);
firmware::Array sized_array(firmware::Routine& routine, const std::string& name, unsigned bits,
                            std::size_t length);
firmware::Array sized_table(firmware::Routine& routine, const std::string& name, unsigned bits,
                            std::vector<std::uint32_t> values);
firmware::Expression sized_cast(unsigned bits, const firmware::Expression& value);

}  // namespace portweigh::blocks

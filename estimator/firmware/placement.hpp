// What the code generator model knows about a program before it translates it: how many bits a value can
// need, and which variables stay in registers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "firmware/core.hpp"
#include "firmware/program.hpp"

namespace portweigh::firmware {

// Upper bound of the significant bits of an expression computed without truncation: 1..32, 33 if it can be
// negative or overflow 32 bits. Example: (x & 0x1F) + 1 needs 6.
unsigned bit_bound(const Program& program, NodeId id);

// Bit i set: word i (of `word_bits`) of the value is known to be zero.
unsigned zero_words(const Program& program, NodeId id, unsigned word_bits);

// Set bits of a word mask.
inline unsigned words_in(unsigned mask) {
  return static_cast<unsigned>(__builtin_popcount(mask));
}

struct FunctionPlacement {
  double saved_registers = 0;  // words pushed at entry and popped at exit
  double spilled_bytes = 0;
  double spare_registers = 0;  // words left for constants and addresses worth keeping
  bool calls = false;
};

struct Placement {
  std::vector<bool> in_register;        // by variable (locals and parameters)
  std::vector<bool> merged;             // kept in memory by the accumulator's compiler; see reaching.hpp
  std::vector<StatementId> definition;  // by node that uses a variable; see reaching.hpp
  std::vector<bool> stepped;            // by variable: only set, or changed by a constant, in loops
  std::vector<FunctionPlacement> functions;
};

// Registers go to variables by uses weighted with 8^(loop depth), as long as fewer than core.registers words
// minus two for scratch are live at once.
Placement place_variables(const Program& program, const Core& core);

}  // namespace portweigh::firmware

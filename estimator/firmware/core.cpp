#include "firmware/core.hpp"

#include <cmath>
#include <stdexcept>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

struct OperationText {
  std::string_view name;
  std::string_view text;
};

constexpr std::array<OperationText, operation_count> operation_texts = {{
    {"move", "copy one word between registers, or between the accumulator and a variable"},
    {"logic", "add, subtract, and, or, exclusive-or of one word with a register"},
    {"logic_constant", "and, or of one word with a constant that fits the instruction"},
    {"xor_constant", "exclusive-or of one word with a constant that fits the instruction"},
    {"add_constant", "add or subtract a constant that fits the instruction"},
    {"constant", "load a constant that fits the instruction"},
    {"constant_large", "load a constant that does not fit one instruction"},
    {"extend_byte", "zero-extend 8 bits in a wider word"},
    {"extend_half", "zero-extend 16 bits in a 32-bit word"},
    {"shift_base", "shift instruction on one word, apart from the bits"},
    {"shift_bit", "each bit shifted of one word"},
    {"swap_halves", "exchange the halves of a word"},
    {"shift_loop", "one turn of a shift loop, apart from the shifting"},
    {"compare", "compare one word with a register, or with zero"},
    {"compare_constant", "compare one word with a constant"},
    {"branch_taken", "conditional branch that is taken"},
    {"branch_not_taken", "conditional branch that is not taken"},
    {"jump", "unconditional jump"},
    {"dispatch", "jump through a table of addresses, bounds not included"},
    {"dispatch_size", "the same in code built for size (a support routine is called if it takes longer)"},
    {"bit_branch", "test of one bit before a branch"},
    {"call", "call of a subroutine"},
    {"give_back", "return from a subroutine"},
    {"frame", "entry and exit of a function that saves registers, apart from the registers"},
    {"push", "save one register on the stack"},
    {"pop", "restore one register from the stack"},
    {"load_static", "load one word from a fixed address in RAM"},
    {"store_static", "store one word at a fixed address in RAM"},
    {"load_indirect", "load one word through a pointer, with or without displacement"},
    {"store_indirect", "store one word through a pointer, with or without displacement"},
    {"load_table", "load one word of a table in program memory through a pointer"},
    {"address", "bring the address of a static object into a pointer"},
    {"index", "add an index to a pointer"},
    {"foreign_pointer", "added for each access through a pointer the caller passed"},
    {"port_read", "read one word from a peripheral register"},
    {"port_write", "write one word to a peripheral register"},
    {"port_bit", "set or clear one bit of a peripheral register"},
    {"multiply_8", "multiply 8 by 8 bits, everything included"},
    {"multiply_16", "multiply 16 by 16 bits, everything included"},
    {"multiply_32", "multiply 32 by 32 bits, everything included"},
    {"scale", "double an index to make a byte offset"},
}};

}  // namespace

std::string_view name_of(Operation operation) {
  return operation_texts.at(static_cast<std::size_t>(operation)).name;
}

std::string_view text_of(Operation operation) {
  return operation_texts.at(static_cast<std::size_t>(operation)).text;
}

Core built_for(Core core, Goal goal) {
  core.goal = goal;
  return core;
}

double wait_state_stretch(const Core& core, double clock_hz) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  const double waits = std::max(0.0, std::ceil(clock_hz / core.zero_wait_clock_hz * (1 - 1e-12)) - 1.0);
  return 1.0 + waits * core.wait_penalty;
}

}  // namespace portweigh::firmware

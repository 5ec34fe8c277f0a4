// A core class: how a kind of processor, with its usual compiler, pays for the operations of a routine.
// Plain data, read from catalog/cores/*.toml by parts/core_reader.hpp.
//
// Cycles are clock cycles at zero wait states (machine cycles where the class is described so). Figures of
// single instructions are from memory, unconfirmed. compiler.* are fitted by class to measured code, and
// some figures that stand for a compiler's habits were chosen by looking at compiled code of the same
// routines: usable registers, straight shifts, helper calls (multiply, foreign pointers), address forming.
// None is set by routine. Tested by core_test.cpp.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace portweigh::firmware {

// The instruction classes a routine is translated into. "Word" is the core's own register width.
enum class Operation : std::uint8_t {
  move,              // copy a word between registers (accumulator: load or store of the accumulator)
  logic,             // add, subtract, and, or, xor of one word, register with register
  logic_constant,    // and, or with a constant that fits the instruction
  xor_constant,      // exclusive-or with a constant that fits the instruction
  add_constant,      // add or subtract a constant that fits the instruction
  constant,          // load a constant that fits the instruction into a register
  constant_large,    // load a constant that does not (literal pool, two instructions)
  extend_byte,       // zero-extend 8 bits in a wider word
  extend_half,       // zero-extend 16 bits in a 32-bit word
  shift_base,        // a shift instruction on one word, whatever the count (barrel, sequential)
  shift_bit,         // added for each bit shifted (one-bit, sequential)
  swap_halves,       // exchange the halves of a word (nibbles of 8 bits, bytes of 16)
  shift_loop,        // one turn of a shift loop apart from the shifting (count and branch)
  compare,           // compare one word, register with register
  compare_constant,  // compare one word with a constant
  branch_taken,
  branch_not_taken,
  jump,
  dispatch,       // jump through a table of addresses, apart from checking its bounds
  dispatch_size,  // the same in code built for size; a support routine is called if it takes longer
  bit_branch,     // added when a branch tests one bit of a register or port directly (skip, jump-if-bit)
  call,
  give_back,  // return
  frame,      // entry and exit of a function that saves registers, apart from the registers
  push,       // save one register on the stack
  pop,
  load_static,  // one word from a fixed address in RAM
  store_static,
  load_indirect,  // one word through a pointer register with or without a small displacement
  store_indirect,
  load_table,       // one word from a table in program memory through a pointer
  address,          // bring the address of a static object into a pointer
  index,            // add an index to a pointer (one addition of pointer width)
  foreign_pointer,  // added for each access through a pointer passed by the caller (generic pointers)
  port_read,        // one word from a peripheral register
  port_write,
  port_bit,     // set or clear one bit of a peripheral register
  multiply_8,   // 8 x 8 = 16 bits, everything included
  multiply_16,  // 16 x 16
  multiply_32,  // 32 x 32 = 32
  scale,        // turn an index into a byte offset: one doubling
  count_,       // number of operations, not one of them
};
inline constexpr std::size_t operation_count = static_cast<std::size_t>(Operation::count_);

// Key of the operation in files, such as "load_static".
std::string_view name_of(Operation operation);
// One line of what it is, for the schema and the reference.
std::string_view text_of(Operation operation);

struct OperationCost {
  double cycles = 0.0;
  double bytes = 0.0;  // code bytes at each place it stands
};

enum class Shifter : std::uint8_t {
  one_bit,     // one instruction shifts one word by one bit
  sequential,  // one instruction, cycles grow with the count
  barrel,      // any count in one instruction
};

enum class Operands : std::uint8_t {
  two_address,    // result overwrites the first operand
  mixed,          // sums and shifts go to any register, other results overwrite the first operand
  three_address,  // result goes to any register
  memory,       // two addresses, either of which may be in memory; constants 0, 1, 2, 4, 8, all ones are free
  accumulator,  // every operation passes through one accumulator; variables live in direct RAM
};

enum class StaticAccess : std::uint8_t {
  direct,  // instructions hold the address of a static variable
  base,    // a pointer to static data is loaded first and then kept
};

enum class WideShift : std::uint8_t {
  by_words,  // shifts of 32 bits first move whole words, then bits
  whole,     // shifts of 32 bits that are no whole words run a loop over all words
};

// What the compiler is asked for: small code, fast code, or (middle) unknown: the mean of both.
enum class Goal : std::uint8_t { middle, size, speed };

// low, typical, high multiplier from the translation model to real compiled code.
struct FactorRange {
  double low = 1.0;
  double typical = 1.0;
  double high = 1.0;
};

struct Core {
  std::string name;  // generic class, such as "8-bit-two-stage"
  std::string text;  // one line
  Shifter shifter = Shifter::barrel;
  Operands operands = Operands::two_address;
  StaticAccess static_access = StaticAccess::direct;
  WideShift wide_shift = WideShift::by_words;

  double word_bits = 32;      // register width
  double registers = 8;       // words a compiler can hold variables in
  double free_registers = 4;  // of these, words a routine may use without saving them
  double pointer_bits = 32;   // width of an address
  double shift_straight = 4;  // shifts of n words stay straight code up to n + this many instructions
  double shift_group = 1;     // bits a sequential shifter moves in one cycle before going one by one
  double constant_bits = 8;   // constants up to this many bits fit an instruction
  double dispatch_cases = 5;  // a switch of so many cases or more jumps through a table ...
  double dispatch_span = 3;   // ... if the table has at most this many entries for each case

  double static_reach = 4095;    // elements beyond its base that an access to static data reaches directly
  double unroll_operations = 0;  // built for speed: turns times operations of the largest loop unrolled

  std::array<OperationCost, operation_count> operations{};
  double multiply_helper_bytes = 0;  // library code where multiply_16/32 are calls, counted once
  double shift_helper_bytes = 0;     // library code where variable or wide shifts are calls, counted once

  // Interrupts: cycles from request to the first instruction of the handler, and for the return.
  double interrupt_entry_cycles = 0;
  double interrupt_exit_cycles = 0;
  double interrupt_frame_cycles = 0;  // save and restore around a handler that is compiled code
  double interrupt_frame_bytes = 0;
  double interrupt_stack_bytes = 0;
  double wake_up_s = 0;  // from the sleep in which the core waits for events to its first instruction

  // Program memory: up to this clock an instruction is fetched without waiting; each further multiple adds
  // one wait state, and a wait state stretches execution by `wait_penalty` of a cycle per cycle.
  double zero_wait_clock_hz = 1e12;
  double wait_penalty = 0;
  bool runs_from_ram = false;  // instructions can be fetched from RAM, without waiting

  Goal goal = Goal::middle;  // not in core files: set by who wants code built for one goal
  FactorRange compiler_cycles;
  FactorRange compiler_bytes;

  const OperationCost& operator[](Operation operation) const {
    return operations[static_cast<std::size_t>(operation)];
  }
  OperationCost& operator[](Operation operation) { return operations[static_cast<std::size_t>(operation)]; }
};

// The same core with a compiler asked for `goal`.
Core built_for(Core core, Goal goal);

// Cycles become this much longer at `clock_hz` (1 without wait states). Example: zero_wait_clock 24 MHz,
// penalty 0.4, 48 MHz: one wait state, 1.4.
double wait_state_stretch(const Core& core, double clock_hz);

}  // namespace portweigh::firmware

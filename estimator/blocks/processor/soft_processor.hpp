// Soft processor: a small load/store core inside programmable logic, 8, 16 or 32 bits wide, either several
// clocks an instruction (sequential) or one clock for most (pipelined).
//
// The instruction set is this project's own; docs/soft-processor.md is its reference. One set of fields
// serves all widths: operation (5 bits), rd, ra (4 or 5 bits each), immediate (11 or 17 bits); instructions
// are 24 bits for the 8- and 16-bit cores and 32 bits for the 32-bit core. Code addresses count instructions.
//
// Tested by tests/blocks/processor/soft_processor_test.cpp against an instruction-set model in plain C++.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "blocks/kind.hpp"

namespace portweigh::blocks {

Kind soft_processor_kind();

enum class ProcessorStyle : std::uint8_t { sequential, pipelined };

struct ProcessorShape {
  unsigned bits = 32;  // 8, 16 or 32
  ProcessorStyle style = ProcessorStyle::sequential;
  unsigned program_bytes = 4096;
  unsigned data_bytes = 1024;

  unsigned register_bits() const { return bits == 32 ? 5 : 4; }  // of a register's number
  unsigned immediate_bits() const { return bits == 32 ? 17 : 11; }
  unsigned instruction_bits() const { return bits == 32 ? 32 : 24; }
  unsigned program_words() const { return program_bytes * 8 / instruction_bits(); }
  // 12, 16 or 24 bits, more where the program memory needs it.
  unsigned code_address_bits() const;
  unsigned data_words() const { return data_bytes * 8 / bits; }
};
ProcessorShape processor_shape(const Settings& settings);

// Operation codes: two bits of group, three of function.
enum class Instruction : std::uint8_t {
  add,
  subtract,
  bit_and,
  bit_or,
  bit_xor,
  less_signed,
  less_unsigned,
  shift,  // rd = ra op rb
  add_i,
  subtract_i,
  and_i,
  or_i,
  xor_i,
  less_signed_i,
  less_unsigned_i,
  shift_i,  // rd = ra op immediate
  load,
  load_half,
  load_byte,
  load_byte_signed,  // rd = memory[ra + immediate]
  store,
  store_half,
  store_byte,  // memory[ra + immediate] = rd
  special,     // by the ra field
  if_equal,
  if_not_equal,
  if_less_unsigned,
  if_not_less_unsigned,
  if_less_signed,
  if_not_less_signed,
  call,  // rd = next; jump by the offset in ra and immediate together (8 bits: push next)
  jump,  // rd = next; to ra + immediate (8 bits: return, pop)
};
enum class Special : std::uint8_t {
  upper,  // rd = immediate, shifted to the top bits
  sleep,  // until an event
  page,   // 8 bits: upper half of data addresses = immediate
  allow_interrupt,
  forbid_interrupt,
  return_interrupt,
  counter,  // 32 bits: rd = clocks since reset
};
// Kinds of `shift`, in the top two bits of the immediate. The last is for the pipelined 32-bit core only: the
// low half of the product of both operands.
enum class Shift : std::uint8_t { left, right, right_signed, multiply };

// Code address of the instruction that an interrupt goes to.
inline constexpr unsigned interrupt_vector = 1;
// Bits of the input and output bus: data addresses with the top bit set go there.
inline constexpr unsigned port_address_bits = 8;

logic::Network processor_network(const ProcessorShape& shape, const std::vector<std::uint64_t>& program);

// The program that the kind's network holds: waits for an event, then takes a byte from port 0 into a CRC-8
// and a ring in memory, and shows both on ports 1 and 2.
std::vector<std::uint64_t> demonstration_program(const ProcessorShape& shape);

}  // namespace portweigh::blocks

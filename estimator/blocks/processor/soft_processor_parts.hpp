// The parts of a soft processor's network that both styles share: decoding, arithmetic, memory lanes,
// interrupts.
//
// Tested by tests/blocks/processor/soft_processor_test.cpp through whole processors.
#pragma once

#include <cstdint>
#include <vector>

#include "blocks/processor/soft_processor.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {

struct DecodedInstruction {
  logic::Word function;   // 3 bits
  logic::Word rd, ra;     // register numbers
  logic::Word immediate;  // sign-extended or cut to the width of the core
  logic::Word offset;     // of a jump or call, as wide as a code address
  logic::Bit is_alu, is_shift, is_multiply, is_load, is_store, is_branch, is_call, is_jump;
  logic::Bit uses_immediate;  // as second operand
  logic::Bit subtracts;
  logic::Bit adds;         // address or sum: anything but and, or, xor, less
  logic::Word shift_kind;  // 2 bits
  logic::Word special;     // one-hot, by `Special`
  logic::Bit is(Special what) const { return special[static_cast<std::size_t>(what)]; }
};
DecodedInstruction decode_instruction(const ProcessorShape& shape, const logic::Word& instruction);
// Register number of the second operand: rd for stores and branches, else from the immediate.
logic::Word second_register(const ProcessorShape& shape, const logic::Word& instruction);

struct Arithmetic {
  logic::Word sum;    // or difference
  logic::Word value;  // what the function says, without shifts
  logic::Bit is_equal, is_less_unsigned, is_less_signed;
};
Arithmetic add_arithmetic(const DecodedInstruction& instruction, const logic::Word& a, const logic::Word& b);
logic::Bit branch_condition(const DecodedInstruction& instruction, const Arithmetic& arithmetic);
// Immediate of `upper`, moved to the top bits.
logic::Word upper_value(const ProcessorShape& shape, const DecodedInstruction& instruction);

// One memory for each byte of a word.
class DataMemory {
 public:
  DataMemory(logic::Network& network, const ProcessorShape& shape);
  // Byte address (8 bits: page and address together).
  void write(const DecodedInstruction& instruction, logic::Bit enable, const logic::Word& address,
             const logic::Word& data) const;
  // The word there, one clock later.
  logic::Word read(const logic::Word& address) const;
  // Picks the part that the load asks for; `address` as it was when read.
  logic::Word align(const DecodedInstruction& instruction, const logic::Word& address,
                    const logic::Word& word) const;

 private:
  logic::Word word_address(const logic::Word& address) const;
  unsigned lane_address_bits() const { return shape_.bits == 8 ? 0 : shape_.bits / 16; }

  logic::Network* network_;
  ProcessorShape shape_;
  std::vector<std::uint32_t> lanes_;
};

// Two read ports, registered; register 0 reads zero because it is never written.
struct RegisterFile {
  std::uint32_t memory;
  logic::Word a, b;
};
RegisterFile add_register_file(logic::Network& network, const ProcessorShape& shape, const logic::Word& ra,
                               const logic::Word& rb);

logic::Word add_program_memory(logic::Network& network, const ProcessorShape& shape,
                               const std::vector<std::uint64_t>& program, const logic::Word& address);

// Return addresses of the 8-bit core, 16 deep.
class ReturnStack {
 public:
  ReturnStack(logic::Network& network, const ProcessorShape& shape);
  const logic::Word& top() const { return top_; }
  void connect(logic::Bit reset, logic::Bit push, logic::Bit pop, const logic::Word& next) const;

 private:
  std::uint32_t memory_;
  logic::Word pointer_;
  logic::Word top_;
};

}  // namespace portweigh::blocks

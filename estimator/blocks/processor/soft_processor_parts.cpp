// Parts of the soft processor; the reference of the instruction set is docs/soft-processor.md.
#include "blocks/processor/soft_processor_parts.hpp"

#include <fmt/core.h>

#include <bit>

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

Word sign_extended(const Word& a, std::size_t width) {
  Word result = a.resized(std::min(width, a.size()));
  while (result.size() < width) result.append(a.top());
  return result;
}

unsigned address_bits_of(unsigned words) {
  return std::max(1U, static_cast<unsigned>(std::bit_width(words - 1U)));
}

// Index as wide as the memory needs, zero-extended where the address is shorter.
Word memory_index(const Word& address, unsigned words) {
  return address.resized(address_bits_of(words));
}

}  // namespace

DecodedInstruction decode_instruction(const ProcessorShape& shape, const Word& instruction) {
  const unsigned i = shape.immediate_bits();
  const unsigned r = shape.register_bits();
  const Word immediate = instruction.slice(0, i);
  const Word op = instruction.slice(i + 2 * r, 5);
  const Word function = op.slice(0, 3);
  const Bit in_immediates = (~op[4]) & op[3];
  const Bit in_memory = op[4] & (~op[3]);
  const Bit in_control = op[4] & op[3];
  const Bit is_alu = ~op[4];
  const Bit is_special = in_memory & all(function);
  const Bit is_call = in_control & function[2] & function[1] & (~function[0]);
  const Bit is_jump = in_control & all(function);
  const Bit is_branch = in_control & (~(function[2] & function[1]));
  // Subtraction also compares: functions 1, 5 and 6.
  const Bit compares = (function[2] & (function[1] ^ function[0])) | (function == 1U);
  const Bit subtracts = (is_alu & compares) | is_branch;
  const Bit adds = op[4] | ((~function[2]) & (~function[1]));
  const Word ra = instruction.slice(i, r);
  const Bit is_shift = is_alu & all(function);
  const Word call_offset = sign_extended(instruction.slice(0, i + r), shape.code_address_bits());
  const Word branch_offset = sign_extended(immediate, shape.code_address_bits());
  return {.function = function,
          .rd = instruction.slice(i + r, r),
          .ra = ra,
          .immediate = sign_extended(immediate, shape.bits),
          .offset = select(is_call, call_offset, branch_offset),
          .is_alu = is_alu,
          .is_shift = is_shift,
          .is_multiply = is_shift & instruction[i - 1] & instruction[i - 2],
          .is_load = in_memory & (~function[2]),
          .is_store = in_memory & function[2] & (~(function[1] & function[0])),
          .is_branch = is_branch,
          .is_call = is_call,
          .is_jump = is_jump,
          .uses_immediate = in_immediates | in_memory | is_jump,
          .subtracts = subtracts,
          .adds = adds,
          .shift_kind = instruction.slice(i - 2, 2),
          .special = gate(is_special, decoded(ra.slice(0, 3)))};
}

Word second_register(const ProcessorShape& shape, const Word& instruction) {
  const unsigned i = shape.immediate_bits();
  const unsigned r = shape.register_bits();
  const Bit is_second_rd = instruction[i + 2 * r + 4];  // memory and control groups
  return select(is_second_rd, instruction.slice(i + r, r), instruction.slice(0, r));
}

Arithmetic add_arithmetic(const DecodedInstruction& instruction, const Word& a, const Word& b) {
  Network& network = a.network();
  const Word operand = b ^ repeated(instruction.subtracts, b.size());
  const logic::Sum sum = add_with_carry(a, operand, instruction.subtracts);
  const Word difference = a ^ b;
  const Bit is_less_unsigned = ~sum.carry;
  const Bit is_less_signed = select(a.top() ^ b.top(), a.top(), is_less_unsigned);
  const Bit is_less = select(instruction.function[0], is_less_signed, is_less_unsigned);
  // Functions 2, 3, 4 are and, or, xor; 5 and 6 compare; 7 (shift) is done elsewhere.
  const Word logical =
      select(instruction.function[2], difference, select(instruction.function[0], a | b, a & b));
  const Bit is_comparison =
      instruction.is_alu & instruction.function[2] & (instruction.function[1] | instruction.function[0]);
  Word value = select(instruction.adds, sum.value, gate(~is_comparison, logical));
  Word with_flag(network);
  with_flag.append(value[0] | (is_comparison & is_less));
  for (std::size_t bit = 1; bit < value.size(); ++bit) with_flag.append(value[bit]);
  return {sum.value, with_flag, ~any(difference), is_less_unsigned, is_less_signed};
}

Bit branch_condition(const DecodedInstruction& instruction, const Arithmetic& arithmetic) {
  const Word& f = instruction.function;
  const Bit less = select(f[2], arithmetic.is_less_signed, arithmetic.is_less_unsigned);
  return select(f[2] | f[1], less, arithmetic.is_equal) ^ f[0];
}

Word upper_value(const ProcessorShape& shape, const DecodedInstruction& instruction) {
  const unsigned low = shape.bits - shape.immediate_bits();
  return concatenate(constant_word(instruction.rd.network(), 0, low),
                     instruction.immediate.resized(shape.immediate_bits()));
}

DataMemory::DataMemory(Network& network, const ProcessorShape& shape) : network_(&network), shape_(shape) {
  for (unsigned lane = 0; lane < shape.bits / 8; ++lane) {
    lanes_.push_back(add_memory(network, fmt::format("data_{}", lane), shape.data_words(), 8));
  }
}

Word DataMemory::word_address(const Word& address) const {
  const unsigned low = lane_address_bits();
  return memory_index(address.slice(low, address.size() - low), shape_.data_words());
}

void DataMemory::write(const DecodedInstruction& instruction, Bit enable, const Word& address,
                       const Word& data) const {
  const Bit is_half = instruction.function[0];
  const Bit is_byte = instruction.function[1];
  const Word target = word_address(address);
  for (unsigned lane = 0; lane < lanes_.size(); ++lane) {
    Word byte = data.slice(8 * lane, 8);
    Bit chosen = enable;
    if (shape_.bits == 16) {
      const Bit is_lane = lane == 0 ? ~address[0] : address[0];
      byte = select(is_byte, data.slice(0, 8), byte);
      chosen = enable & ((~is_byte) | is_lane);
    }
    if (shape_.bits == 32) {
      const Bit is_half_lane = lane < 2 ? ~address[1] : address[1];
      const Bit is_lane = lane % 2 == 0 ? ~address[0] : address[0];
      const Word half = select(is_half, data.slice(8 * (lane % 2), 8), byte);
      byte = select(is_byte, data.slice(0, 8), half);
      chosen = enable & ((~(is_half | is_byte)) | (is_half_lane & ((~is_byte) | is_lane)));
    }
    write_memory(lanes_[lane], chosen, target, byte);
  }
}

Word DataMemory::read(const Word& address) const {
  const Word target = word_address(address);
  Word word(*network_);
  for (const std::uint32_t lane : lanes_) {
    const Word byte = read_memory(lane, target, logic::ReadStyle::registered);
    for (std::size_t bit = 0; bit < 8; ++bit) word.append(byte[bit]);
  }
  return word;
}

Word DataMemory::align(const DecodedInstruction& instruction, const Word& address, const Word& word) const {
  if (shape_.bits == 8) return word;
  const Bit is_byte = instruction.function[1];
  const Bit is_signed = instruction.function[0];
  const Bit is_half = (~is_byte) & instruction.function[0];
  Word half = word;
  if (shape_.bits == 32) {
    half = select((is_half | is_byte) & address[1], word.slice(16, 16), word.slice(0, 16));
  }
  const Word byte = select(is_byte & address[0], half.slice(8, 8), half.slice(0, 8));
  const Bit fill = is_byte & is_signed & byte.top();
  const Word second = select(is_byte, repeated(fill, 8), half.slice(8, 8));
  const Word low = concatenate(byte, second);
  if (shape_.bits == 16) return low;
  return concatenate(low, select(is_half | is_byte, repeated(fill, 16), word.slice(16, 16)));
}

RegisterFile add_register_file(Network& network, const ProcessorShape& shape, const Word& ra,
                               const Word& rb) {
  const std::uint32_t memory = add_memory(network, "registers", 1U << shape.register_bits(), shape.bits);
  return {memory, read_memory(memory, ra, logic::ReadStyle::registered),
          read_memory(memory, rb, logic::ReadStyle::registered)};
}

Word add_program_memory(Network& network, const ProcessorShape& shape,
                        const std::vector<std::uint64_t>& program, const Word& address) {
  std::vector<std::uint64_t> contents = program;
  contents.resize(shape.program_words(), 0);
  const std::uint32_t memory =
      network.add_memory("program", shape.program_words(), shape.instruction_bits(), contents);
  return read_memory(memory, memory_index(address, shape.program_words()), logic::ReadStyle::registered);
}

ReturnStack::ReturnStack(Network& network, const ProcessorShape& shape)
    : memory_(add_memory(network, "return_stack", 16, shape.code_address_bits())),
      pointer_(add_registers(network, "stack_pointer", 4)),
      top_(read_memory(memory_, pointer_, logic::ReadStyle::registered)) {}

void ReturnStack::connect(Bit reset, Bit push, Bit pop, const Word& next) const {
  const Word pushed = pointer_ + 1U;
  write_memory(memory_, push, pushed, next);
  logic::connect(pointer_, select(push, pushed, pointer_ - 1U), {.enable = push | pop, .reset = reset});
}

}  // namespace portweigh::blocks

#include "blocks/processor/soft_processor_assembler.hpp"

#include <fmt/core.h>

#include <stdexcept>

namespace portweigh::blocks {

std::uint64_t Assembler::field(std::int64_t value, unsigned bits) const {
  const std::int64_t limit = std::int64_t{1} << bits;
  if (value >= limit || value < -limit / 2) {
    throw std::logic_error(fmt::format("operand {} does not fit {} bits", value, bits));
  }
  return static_cast<std::uint64_t>(value) & static_cast<std::uint64_t>(limit - 1);
}

void Assembler::emit(Instruction op, std::uint64_t rd, std::uint64_t ra, std::uint64_t value) {
  const unsigned i = shape_.immediate_bits();
  const unsigned r = shape_.register_bits();
  words_.push_back(static_cast<std::uint64_t>(op) << (i + 2 * r) | rd << (i + r) | ra << i | value);
}

void Assembler::registers(Instruction op, unsigned rd, unsigned ra, unsigned rb) {
  emit(op, rd, ra, rb);
}

void Assembler::immediate(Instruction op, unsigned rd, unsigned ra, std::int64_t value) {
  emit(op, rd, ra, field(value, shape_.immediate_bits()));
}

void Assembler::shift(unsigned rd, unsigned ra, unsigned rb, Shift direction) {
  emit(Instruction::shift, rd, ra,
       static_cast<std::uint64_t>(direction) << (shape_.immediate_bits() - 2) | rb);
}

void Assembler::shift_by(unsigned rd, unsigned ra, unsigned count, Shift direction) {
  emit(Instruction::shift_i, rd, ra,
       static_cast<std::uint64_t>(direction) << (shape_.immediate_bits() - 2) | count);
}

void Assembler::special(Special what, unsigned rd, std::int64_t value) {
  emit(Instruction::special, rd, static_cast<std::uint64_t>(what), field(value, shape_.immediate_bits()));
}

void Assembler::branch(Instruction op, unsigned ra, unsigned rb, Label target) {
  open_.push_back({words_.size(), target, Reach::branch});
  emit(op, rb, ra, 0);
}

void Assembler::call(unsigned link, Label target) {
  open_.push_back({words_.size(), target, Reach::call});
  emit(Instruction::call, link, 0, 0);
}

void Assembler::jump(unsigned link, unsigned ra, std::int64_t offset) {
  emit(Instruction::jump, link, ra, field(offset, shape_.immediate_bits()));
}

void Assembler::constant(unsigned rd, std::uint64_t value) {
  const unsigned i = shape_.immediate_bits();
  if (shape_.bits == 8 || value < (std::uint64_t{1} << (i - 1))) {
    return immediate(Instruction::add_i, rd, 0, static_cast<std::int64_t>(value));
  }
  const unsigned low_bits = shape_.bits - i;
  special(Special::upper, rd, static_cast<std::int64_t>(value >> low_bits));
  immediate(Instruction::or_i, rd, rd,
            static_cast<std::int64_t>(value & ((std::uint64_t{1} << low_bits) - 1)));
}

Assembler::Label Assembler::new_label() {
  labels_.emplace_back();
  return labels_.size() - 1;
}

void Assembler::place(Label label) {
  labels_.at(label) = here();
}

std::vector<std::uint64_t> Assembler::finish() const {
  std::vector<std::uint64_t> words = words_;
  for (const Open& open : open_) {
    const auto& target = labels_.at(open.target);
    if (!target) throw std::logic_error(fmt::format("label {} was never placed", open.target));
    const auto offset = static_cast<std::int64_t>(*target) - static_cast<std::int64_t>(open.word) - 1;
    const unsigned bits = shape_.immediate_bits() + (open.reach == Reach::call ? shape_.register_bits() : 0U);
    words[open.word] |= field(offset, bits);
  }
  if (words.size() > shape_.program_words()) {
    throw std::logic_error(
        fmt::format("program of {} instructions in a memory of {}", words.size(), shape_.program_words()));
  }
  return words;
}

}  // namespace portweigh::blocks

// Puts programs of the soft processor together: one function for each kind of instruction, labels for jumps.
//
//   Assembler a(shape);
//   const auto loop = a.new_label();
//   a.place(loop);
//   a.immediate(Instruction::add_i, 1, 1, 1);            // r1 = r1 + 1
//   a.branch(Instruction::if_not_equal, 1, 2, loop);     // while r1 != r2
//   const auto words = a.finish();
//
// Throws std::logic_error for a label never placed or an operand that does not fit its field.
// Tested by tests/blocks/processor/soft_processor_test.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "blocks/processor/soft_processor.hpp"

namespace portweigh::blocks {

class Assembler {
 public:
  using Label = std::size_t;

  explicit Assembler(const ProcessorShape& shape) : shape_(shape) {}

  void registers(Instruction op, unsigned rd, unsigned ra, unsigned rb);
  void immediate(Instruction op, unsigned rd, unsigned ra, std::int64_t value);
  void shift(unsigned rd, unsigned ra, unsigned rb, Shift direction);
  void shift_by(unsigned rd, unsigned ra, unsigned count, Shift direction);
  void special(Special what, unsigned rd = 0, std::int64_t value = 0);
  // Goes to `target` where `ra` compares with `rb` as the instruction says.
  void branch(Instruction op, unsigned ra, unsigned rb, Label target);
  void call(unsigned link, Label target);
  void jump(unsigned link, unsigned ra, std::int64_t offset = 0);
  // rd = value, in one or two instructions.
  void constant(unsigned rd, std::uint64_t value);

  Label new_label();
  void place(Label label);
  unsigned here() const { return static_cast<unsigned>(words_.size()); }
  std::vector<std::uint64_t> finish() const;

 private:
  enum class Reach : std::uint8_t { branch, call };
  struct Open {
    std::size_t word;
    Label target;
    Reach reach;
  };

  void emit(Instruction op, std::uint64_t rd, std::uint64_t ra, std::uint64_t value);
  std::uint64_t field(std::int64_t value, unsigned bits) const;

  ProcessorShape shape_;
  std::vector<std::uint64_t> words_;
  std::vector<std::optional<unsigned>> labels_;
  std::vector<Open> open_;
};

}  // namespace portweigh::blocks

// Truth table of a function of up to eight inputs, as one LUT holds it.
//
// Bit i of the table is the value at the input assignment i (input 0 is the least significant bit). Tables
// of fewer than eight inputs are repeated, so that tables compare and combine without regard to their width.
// Example: input 0 AND input 1 is 0x8888...; input 0 XOR input 1 is 0x6666....
//
// Tested by tests/logic/graph/truth_table_test.cpp.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace portweigh::logic {

inline constexpr unsigned max_lut_inputs = 8;

class TruthTable {
 public:
  static constexpr unsigned word_count = 4;

  constexpr TruthTable() = default;
  static TruthTable constant(bool value);
  static TruthTable input(unsigned position);

  bool at(unsigned assignment) const { return (words_[assignment / 64] >> (assignment % 64) & 1U) != 0; }
  std::uint64_t word(unsigned index) const { return words_[index]; }
  bool operator==(const TruthTable&) const = default;
  TruthTable operator~() const;
  TruthTable operator&(const TruthTable& other) const;
  TruthTable operator|(const TruthTable& other) const;
  TruthTable operator^(const TruthTable& other) const;
  TruthTable complement_if(bool condition) const { return condition ? ~*this : *this; }

  // The function with one input fixed (no longer depending on it).
  TruthTable cofactor(unsigned position, bool value) const;
  bool depends_on(unsigned position) const;
  // The function in which `inner`, a function of the same inputs, stands for input `position`.
  TruthTable with_input(unsigned position, const TruthTable& inner) const;
  // Input i of this function becomes input places[i] of the result.
  TruthTable moved(std::span<const unsigned> places) const;

  // 64 evaluations at once: lane of the result for lanes of the inputs.
  std::uint64_t evaluate(std::span<const std::uint64_t> inputs) const;

 private:
  std::array<std::uint64_t, word_count> words_{};
};

}  // namespace portweigh::logic

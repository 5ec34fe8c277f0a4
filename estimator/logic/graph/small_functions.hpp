// Smallest tree structures of ANDs, XORs and inverters for all functions of four inputs.
//
// A function is its 16-bit truth table (input i is 0xAAAA, 0xCCCC, 0xF0F0, 0xFF00). Found once, by growing
// the set of functions that n gates can make until all 65,536 are covered. Each function keeps a few
// decompositions of the least size, so that a rewriting pass can take the one that shares most. Example:
// multiplexer 0xCACA: 3 gates as AND/OR or 3 with two XORs and an AND.
//
// Tested by tests/logic/graph/restructure_test.cpp.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace portweigh::logic {

class SmallFunctions {
 public:
  struct Decomposition {
    std::uint16_t left = 0;  // functions of the operands, complemented or not
    std::uint16_t right = 0;
    bool is_xor = false;
    bool is_complemented = false;
  };
  // Measured as in rewrite.cpp: 1, 2, 4, 6 give 370.7, 369.4, 367.4, 366.7 LUTs in the geometric mean with
  // ten cuts, and 4 and 6 the same within 0.3 % with nine.
  static constexpr unsigned decompositions_kept = 4;

  // The table, built at the first call.
  static const SmallFunctions& table();

  unsigned gates(std::uint16_t function) const { return gates_[function]; }
  unsigned decomposition_count(std::uint16_t function) const { return counts_[function]; }
  const Decomposition& decomposition(std::uint16_t function, unsigned index) const {
    return decompositions_[function * decompositions_kept + index];
  }

 private:
  SmallFunctions();
  void add(std::uint16_t function, unsigned gates, const Decomposition& decomposition);
  void combine_layers(unsigned first, unsigned second);

  static constexpr std::uint8_t unknown = 255;
  std::vector<std::uint8_t> gates_;
  std::vector<std::uint8_t> counts_;
  std::vector<Decomposition> decompositions_;
  std::vector<std::vector<std::uint16_t>> layers_;  // functions with value 0 at assignment 0
  std::size_t known_ = 0;
};

inline constexpr std::array<std::uint16_t, 4> small_inputs = {0xAAAA, 0xCCCC, 0xF0F0, 0xFF00};

}  // namespace portweigh::logic

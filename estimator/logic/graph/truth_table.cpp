#include "logic/graph/truth_table.hpp"

namespace portweigh::logic {
namespace {

constexpr std::array<std::uint64_t, 6> input_masks = {0xAAAAAAAAAAAAAAAAU, 0xCCCCCCCCCCCCCCCCU,
                                                      0xF0F0F0F0F0F0F0F0U, 0xFF00FF00FF00FF00U,
                                                      0xFFFF0000FFFF0000U, 0xFFFFFFFF00000000U};

}  // namespace

TruthTable TruthTable::constant(bool value) {
  TruthTable table;
  table.words_.fill(value ? ~std::uint64_t{0} : 0);
  return table;
}

TruthTable TruthTable::input(unsigned position) {
  TruthTable table;
  for (unsigned i = 0; i < word_count; ++i) {
    table.words_[i] = position < 6 ? input_masks[position] : ((i >> (position - 6) & 1U) != 0 ? ~0ULL : 0);
  }
  return table;
}

TruthTable TruthTable::operator~() const {
  return *this ^ constant(true);
}

TruthTable TruthTable::operator&(const TruthTable& other) const {
  TruthTable result = *this;
  for (unsigned i = 0; i < word_count; ++i) result.words_[i] &= other.words_[i];
  return result;
}

TruthTable TruthTable::operator|(const TruthTable& other) const {
  return ~(~*this & ~other);
}

TruthTable TruthTable::operator^(const TruthTable& other) const {
  TruthTable result = *this;
  for (unsigned i = 0; i < word_count; ++i) result.words_[i] ^= other.words_[i];
  return result;
}

TruthTable TruthTable::cofactor(unsigned position, bool value) const {
  TruthTable result;
  if (position < 6) {
    const std::uint64_t mask = input_masks[position];
    const unsigned shift = 1U << position;
    for (unsigned i = 0; i < word_count; ++i) {
      const std::uint64_t half = value ? words_[i] & mask : words_[i] & ~mask;
      result.words_[i] = half | (value ? half >> shift : half << shift);
    }
    return result;
  }
  const unsigned bit = 1U << (position - 6);
  for (unsigned i = 0; i < word_count; ++i) result.words_[i] = words_[value ? (i | bit) : (i & ~bit)];
  return result;
}

bool TruthTable::depends_on(unsigned position) const {
  return cofactor(position, false) != cofactor(position, true);
}

TruthTable TruthTable::with_input(unsigned position, const TruthTable& inner) const {
  return (inner & cofactor(position, true)) | (~inner & cofactor(position, false));
}

TruthTable TruthTable::moved(std::span<const unsigned> places) const {
  TruthTable result;
  for (unsigned assignment = 0; assignment < 64 * word_count; ++assignment) {
    unsigned source = 0;
    for (unsigned i = 0; i < places.size(); ++i) source |= (assignment >> places[i] & 1U) << i;
    if (at(source)) result.words_[assignment / 64] |= std::uint64_t{1} << (assignment % 64);
  }
  return result;
}

// Multiplexer tree, the highest input outermost.
std::uint64_t TruthTable::evaluate(std::span<const std::uint64_t> inputs) const {
  std::array<std::uint64_t, 128> level{};
  const auto width = static_cast<unsigned>(inputs.size());
  if (width == 0) return at(0) ? ~std::uint64_t{0} : 0;
  unsigned count = 1U << (width - 1);
  for (unsigned i = 0; i < count; ++i) {
    const std::uint64_t low = at(2 * i) ? ~inputs[0] : 0;
    const std::uint64_t high = at(2 * i + 1) ? inputs[0] : 0;
    level[i] = low | high;
  }
  for (unsigned input = 1; input < width; ++input) {
    count /= 2;
    for (unsigned i = 0; i < count; ++i) {
      level[i] = level[2 * i] ^ ((level[2 * i] ^ level[2 * i + 1]) & inputs[input]);
    }
  }
  return level[0];
}

}  // namespace portweigh::logic

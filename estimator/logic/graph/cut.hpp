// A cut of a node: at most K leaves, sorted, that every path from the sources to the node passes.
//
// The signature has bit (leaf mod 64) set for each leaf, so that most cuts that are too wide, or no subset, are
// told without looking at the leaves.
//
// Tested by tests/logic/cover/priority_cuts_test.cpp and tests/logic/graph/restructure_test.cpp.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace portweigh::logic {

template <unsigned K>
struct Cut {
  std::array<std::uint32_t, K> leaves;
  std::uint32_t size;
  std::uint64_t signature;

  std::span<const std::uint32_t> inputs() const { return {leaves.data(), size}; }
};

inline std::uint64_t signature_of(std::uint32_t node) {
  return std::uint64_t{1} << (node % 64);
}

// The union of the leaves of two cuts; false where it has more than K.
template <unsigned K>
bool merge(const Cut<K>& a, const Cut<K>& b, Cut<K>& result) {
  unsigned i = 0;
  unsigned j = 0;
  unsigned size = 0;
  while (i < a.size && j < b.size) {
    if (size == K) return false;
    const std::uint32_t x = a.leaves[i];
    const std::uint32_t y = b.leaves[j];
    result.leaves[size++] = x < y ? x : y;
    i += x <= y ? 1U : 0U;
    j += y <= x ? 1U : 0U;
  }
  if (size + (a.size - i) + (b.size - j) > K) return false;
  while (i < a.size) result.leaves[size++] = a.leaves[i++];
  while (j < b.size) result.leaves[size++] = b.leaves[j++];
  result.size = size;
  result.signature = a.signature | b.signature;
  return true;
}

// Whether all leaves of `a` are leaves of `b`.
template <unsigned K>
bool is_subset(const Cut<K>& a, const Cut<K>& b) {
  if (a.size > b.size || (a.signature & ~b.signature) != 0) return false;
  unsigned j = 0;
  for (unsigned i = 0; i < a.size; ++i) {
    while (j < b.size && b.leaves[j] < a.leaves[i]) ++j;
    if (j == b.size || b.leaves[j] != a.leaves[i]) return false;
  }
  return true;
}

}  // namespace portweigh::logic

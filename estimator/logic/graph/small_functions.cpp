#include "logic/graph/small_functions.hpp"

namespace portweigh::logic {
namespace {

constexpr std::size_t function_count = 65536;

std::uint16_t complement(std::uint16_t function) {
  return static_cast<std::uint16_t>(~function);
}

}  // namespace

const SmallFunctions& SmallFunctions::table() {
  static const SmallFunctions functions;
  return functions;
}

SmallFunctions::SmallFunctions()
    : gates_(function_count, unknown),
      counts_(function_count, 0),
      decompositions_(function_count * decompositions_kept) {
  layers_.push_back({0});
  gates_[0] = gates_[complement(0)] = 0;
  known_ = 2;
  for (const std::uint16_t input : small_inputs) {
    layers_[0].push_back(input);
    gates_[input] = gates_[complement(input)] = 0;
    known_ += 2;
  }
  while (known_ < function_count) {
    const auto gates = static_cast<unsigned>(layers_.size());
    layers_.emplace_back();
    for (unsigned first = 0; 2 * first <= gates - 1; ++first) combine_layers(first, gates - 1 - first);
  }
}

void SmallFunctions::add(std::uint16_t function, unsigned gates, const Decomposition& decomposition) {
  if (gates_[function] == unknown) {
    gates_[function] = gates_[complement(function)] = static_cast<std::uint8_t>(gates);
    known_ += 2;
    layers_[gates].push_back((function & 1U) == 0 ? function : complement(function));
  }
  if (gates_[function] != gates || counts_[function] == decompositions_kept) return;
  decompositions_[function * decompositions_kept + counts_[function]++] = decomposition;
  const std::uint16_t other = complement(function);
  Decomposition complemented = decomposition;
  complemented.is_complemented = !decomposition.is_complemented;
  decompositions_[other * decompositions_kept + counts_[other]++] = complemented;
}

void SmallFunctions::combine_layers(unsigned first, unsigned second) {
  const unsigned gates = first + second + 1;
  for (std::size_t i = 0; i < layers_[first].size(); ++i) {
    const std::uint16_t a = layers_[first][i];
    for (std::size_t j = 0; j < layers_[second].size(); ++j) {
      const std::uint16_t b = layers_[second][j];
      const std::uint16_t a_inverse = complement(a);
      const std::uint16_t b_inverse = complement(b);
      add(a & b, gates, {a, b, false, false});
      add(a_inverse & b, gates, {a_inverse, b, false, false});
      add(a & b_inverse, gates, {a, b_inverse, false, false});
      add(a_inverse & b_inverse, gates, {a_inverse, b_inverse, false, false});
      add(a ^ b, gates, {a, b, true, false});
    }
  }
}

}  // namespace portweigh::logic

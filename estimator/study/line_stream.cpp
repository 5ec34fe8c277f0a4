// What the bits on a function's line are like.
#include <algorithm>
#include <random>

#include "study/function.hpp"

namespace portweigh::study {

blocks::StreamFacts stream_of(const std::vector<FunctionBlock>& blocks) {
  constexpr std::size_t data_bits = std::size_t{8} << 16;
  std::vector<const FunctionBlock*> steps;
  for (const FunctionBlock& block : blocks) {
    const auto is_same = [&](const FunctionBlock* step) { return step->kind == block.kind; };
    const bool is_told = std::any_of(steps.begin(), steps.end(), is_same);
    // The encoder and the decoder of a code make and take the same stream.
    if (block.kind != nullptr && block.kind->sent && !is_told) steps.push_back(&block);
  }
  if (steps.empty()) return {};
  std::mt19937_64 random(1);
  std::vector<bool> bits(data_bits);
  for (auto bit : bits) bit = (random() >> 63) != 0;
  for (const FunctionBlock* step : steps) bits = step->kind->sent(step->settings, bits);
  double ones = 0;
  double changes = 0;
  for (std::size_t i = 1; i < bits.size(); ++i) {
    ones += bits[i] ? 1 : 0;
    changes += bits[i] != bits[i - 1] ? 1 : 0;
  }
  const auto counted = static_cast<double>(bits.size() - 1);
  return {ones / counted, changes / counted};
}

}  // namespace portweigh::study

// Framed random bits as levels of a wire. Tested by tests/blocks/line/line_code_test.cpp.
#include "blocks/line/line_source.hpp"

#include <algorithm>

namespace portweigh::blocks {
namespace {

constexpr std::size_t preamble_bits = 64;
constexpr std::size_t frame_bits = 429;
constexpr std::size_t longest_run = 6;

}  // namespace

// Six bits have gone without a transition: equal bits (nrz), ones (nrzi).
bool LineSource::forced_transition() const {
  if (half_cells(code_) == 2 || bits_.size() < longest_run) return false;
  const bool wanted = code_ == LineCode::nrzi || bits_.back();
  return std::all_of(bits_.end() - longest_run, bits_.end(), [&](bool bit) { return bit == wanted; });
}

bool LineSource::next_bit() {
  if (forced_transition()) return !bits_.back();
  const std::size_t position = bits_.size() % frame_bits;
  if (position < preamble_bits) return position % 2 != 0;
  return (random_() & 1U) != 0;
}

bool LineSource::next_half() {
  if (is_middle_) {
    is_middle_ = false;
    if (code_ == LineCode::manchester || (code_ == LineCode::biphase_mark && bits_.back())) level_ = !level_;
    return level_;
  }
  is_middle_ = true;
  const bool bit = next_bit();
  bits_.push_back(bit);
  switch (code_) {
    case LineCode::biphase_mark:
      level_ = !level_;
      break;
    case LineCode::manchester:
      level_ = !bit;
      break;
    case LineCode::nrzi:
      level_ = level_ == bit;
      break;
    case LineCode::nrz:
      level_ = bit;
      break;
  }
  return level_;
}

}  // namespace portweigh::blocks

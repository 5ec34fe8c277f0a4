#include <algorithm>
#include <bit>
#include <utility>
#include <vector>

#include "firmware/generator.hpp"

namespace portweigh::firmware {

Generator::Value Generator::shift_value(NodeId id, unsigned demand, std::size_t target) {
  const Node& n = node(id);
  if (node(n.right).op == Operator::constant) return shift_by_constant(id, demand, target);
  return shift_by_variable(n, demand, target);
}

Generator::Value Generator::shift_by_constant(NodeId id, unsigned demand, std::size_t target) {
  const Node& n = node(id);
  const std::uint32_t mask = std::exchange(next_mask_, 0);
  const bool is_mask_next = mask != 0;
  const unsigned count = node(n.right).value;
  const bool is_left = n.op == Operator::shift_left;
  if (count >= bits_of(n.type)) return {.kind = Kind::constant, .words = 0};
  const unsigned type_words = words(n.type);
  const double by_bits =
      (count - count / word_bits_ * word_bits_) * type_words * core_[Operation::shift_bit].cycles;
  const bool multiplies = is_left && core_.shifter == Shifter::one_bit && word_bits_ == 8 && count < 8 &&
                          type_words == 2 && bit_bound(program_, n.left) <= 8 &&
                          core_[Operation::multiply_8].cycles < by_bits;
  if (multiplies) {
    in_register(value(n.left, 1));
    emit(Operation::constant, 1);
    emit(Operation::multiply_8, 1);
    return {.kind = Kind::temporary, .words = demand};
  }
  if (core_.wide_shift == WideShift::whole && type_words * word_bits_ >= 32 && count % word_bits_ != 0 &&
      count % word_bits_ != word_bits_ - 1) {
    const Value v = in_register(value(n.left, all_words(n.type), target));
    if (v.kind == Kind::variable && !is_variable(n.left, target)) emit(Operation::move, type_words);
    shift_whole_value(count, type_words);
    return {.kind = Kind::temporary, .words = demand};
  }
  const unsigned whole = count / word_bits_;
  const unsigned rest = count % word_bits_;
  unsigned source = is_left ? demand >> whole : demand << whole;
  if (rest > 0) source |= is_left ? source >> 1U : source << 1U;
  // Bits above those the mask leaves are not shifted; two-address cores' compilers see that for single bits.
  const bool is_narrowed = core_.operands != Operands::two_address || std::has_single_bit(mask);
  if (is_mask_next && !is_left && is_narrowed) {
    const unsigned last = (count + static_cast<unsigned>(std::bit_width(mask)) - 1) / word_bits_;
    source &= (2U << last) - 1U;
  }
  // Bits also cross the words between the lowest and highest wanted.
  Value v = value(n.left, source, is_variable(n.left, target) ? target : no_target);
  if (!is_left) clean(n.left);
  if (rest == 0) {
    if (is_memory() && v.kind == Kind::memory) v = in_register(v);
    const unsigned moved = is_left ? v.words << whole : v.words >> whole;
    // A variable that becomes its own shifted copy really moves its words.
    const bool is_own = v.kind == Kind::variable && is_variable(n.left, target);
    if (is_own && whole > 0 && !is_accumulator()) emit(Operation::move, words_in(moved & demand));
    return {.kind = v.kind == Kind::constant ? Kind::temporary : v.kind, .words = moved & demand};
  }
  v = in_register(v);
  if (v.kind == Kind::variable && !is_variable(n.left, target) && core_.shifter != Shifter::barrel &&
      core_.shifter != Shifter::sequential) {
    emit(Operation::move, words_in(v.words));
  }
  const unsigned word_count = std::max({1U, words_in(v.words), words_in(demand)});
  shift_bits(rest, word_count, is_mask_next ? Masking::later : Masking::needed);
  if (!(is_left && rest == 1)) carry_bits_over(rest, word_count);
  return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
}

// The usual compiler of memory-operand cores chains words by carry for doubling only. Otherwise it shifts
// each word by itself and brings over what leaves its neighbour: copy, swap of halves, mask, shifts back, or.
void Generator::carry_bits_over(unsigned count, unsigned word_count) {
  if (!is_memory() || word_count < 2) return;
  const unsigned half = word_bits_ / 2;
  const unsigned shifts = count > half ? count - half : half - count;
  const double crossings = word_count - 1;
  emit(Operation::swap_halves, crossings);
  emit(Operation::logic, 2 * crossings);
  emit(Operation::move, crossings);
  emit(Operation::shift_bit, crossings * shifts);
}

// Cycles of a sequential shifter beyond the first: groups of bits, then single bits.
double Generator::shift_steps(unsigned count) const {
  const auto group = static_cast<unsigned>(core_.shift_group);
  return count / group + (group > 1 ? count % group : 0U);
}

// Values of 32 bits on narrow one-bit shifters: compilers shift all words in a loop.
void Generator::shift_whole_value(unsigned count, unsigned word_count) {
  const double n = word_count;
  const double passing = is_accumulator() ? 2 : 0;
  if (count == 1) {
    emit(Operation::shift_bit, n);
    emit(Operation::move, passing * n);
    return;
  }
  emit(Operation::constant, 1);
  emit(Operation::shift_bit, n * count, n, now_);
  emit(Operation::move, passing * n * count, passing * n, now_);
  emit(Operation::shift_loop, count, 1, now_);
}

// The cheapest of: bit by bit, the long way round by the other direction, a swap of halves first, a loop.
void Generator::shift_bits(unsigned count, unsigned word_count, Masking masking) {
  if (count == 0) return;
  if (core_.shifter != Shifter::one_bit) {
    emit(Operation::shift_base, word_count);
    emit(Operation::shift_bit, word_count * shift_steps(count), 0, now_);
    return;
  }
  struct Way {
    double bits;
    double swaps;
    double masks;
  };
  const double n = word_count;
  const unsigned half = word_bits_ / 2;
  std::vector<Way> ways = {{n * count, 0, 0}};
  const double mask = masking == Masking::needed ? 1 : 0;
  if (count > half) ways.push_back({(n + 1) * (word_bits_ - count), 0, 0});
  if (count < half && n == 1) ways.push_back({static_cast<double>(half - count), 1, mask});
  if (count >= half) ways.push_back({n * (count - half), n, n == 1 ? mask : 2 * n + 1});
  const auto length = [](const Way& way) { return way.bits + way.swaps + way.masks; };
  const auto best = *std::min_element(ways.begin(), ways.end(),
                                      [&](const Way& a, const Way& b) { return length(a) < length(b); });
  // Passing a word through the accumulator costs a load and a store for each step.
  const double passing = is_accumulator() && word_count > 1 ? 2 : 0;
  const bool swaps_only = is_accumulator() && count == half;
  // Two-address cores: code for size allows two instructions less, which one word never needs.
  const bool is_short = core_.operands == Operands::two_address && is_for_size();
  const double most = is_short ? std::max(4.0, n + core_.shift_straight - 2) : n + core_.shift_straight;
  const bool is_straight = swaps_only || length(best) <= most;
  // Where a loop is shorter, it is built for size, and straight code for speed where compilers know how.
  if (is_straight || (core_.operands == Operands::two_address && !is_for_size())) {
    emit(Operation::shift_bit, best.bits);
    emit(Operation::move, passing * (best.bits + best.swaps));
    emit(Operation::swap_halves, best.swaps);
    emit(word_bits_ == 16 ? Operation::extend_byte : Operation::logic_constant, best.masks);
    return;
  }
  emit(Operation::constant, 1);
  emit(Operation::shift_bit, n * count, n, now_);
  emit(Operation::move, passing * n * count, passing * n, now_);
  emit(Operation::shift_loop, count, 1, now_);
}

Generator::Value Generator::shift_by_variable(const Node& n, unsigned demand, std::size_t target) {
  Value v = in_register(value(n.left, all_words(n.type), is_variable(n.left, target) ? target : no_target));
  if (n.op != Operator::shift_left) clean(n.left);
  const auto count = in_register(value(n.right, 1));
  if (core_.shifter == Shifter::barrel) {
    own_copy(v, is_variable(n.left, target), n.op);
    emit(Operation::shift_base, words(n.type));
    return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
  }
  const auto times = Frequency::site(program_, n.site);
  const double word_count = words(n.type);
  if (core_.shifter == Shifter::sequential) {
    emit(Operation::shift_base, word_count);
    emit(Operation::shift_bit, word_count / (core_.shift_group > 1 ? 2 : 1), 0, times);
    return {.kind = Kind::temporary, .words = demand};
  }
  if (v.kind == Kind::variable && !is_variable(n.left, target)) emit(Operation::move, word_count);
  if (count.kind == Kind::variable) emit(Operation::move, 1);
  emit(Operation::jump, 1);
  const double passing = is_accumulator() && word_count > 1 ? 2 : 0;
  emit(Operation::shift_bit, word_count, word_count, times);
  emit(Operation::move, passing * word_count, passing * word_count, times);
  emit(Operation::shift_loop, 1, 1, times);
  return {.kind = Kind::temporary, .words = demand};
}

}  // namespace portweigh::firmware

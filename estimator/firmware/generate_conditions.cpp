#include <algorithm>
#include <bit>

#include "firmware/generator.hpp"

namespace portweigh::firmware {

void Generator::emit_branch(const Frequency& evaluated, const Frequency& held, TakenWhen taken) {
  const auto jumped = taken == TakenWhen::true_ ? held : evaluated - held;
  emit(Operation::branch_taken, 1, 1, jumped);
  emit(Operation::branch_not_taken, 1, 0, evaluated - jumped);
}

void Generator::branch(NodeId id, const Frequency& evaluated, const Frequency& held, TakenWhen taken) {
  const Node& n = node(id);
  const auto outer = now_;
  now_ = evaluated;
  if (n.op == Operator::constant) {
    if ((n.value != 0) == (taken == TakenWhen::true_)) emit(Operation::jump, 1);
  } else if (n.op == Operator::logical_and) {
    const auto right_ran = Frequency::site(program_, n.site);
    branch(n.left, evaluated, right_ran, TakenWhen::false_);
    const auto known = known_;
    branch(n.right, right_ran, held, taken);
    known_ = known;
  } else if (n.op == Operator::logical_or) {
    const auto right_ran = Frequency::site(program_, n.site);
    const auto left_held = evaluated - right_ran;
    branch(n.left, evaluated, left_held, TakenWhen::true_);
    const auto known = known_;
    branch(n.right, right_ran, held - left_held, taken);
    known_ = known;
  } else if (n.op == Operator::equal && node(n.right).op == Operator::constant && node(n.right).value == 0 &&
             bit_bound(program_, n.left) == 1) {
    const auto opposite = taken == TakenWhen::true_ ? TakenWhen::false_ : TakenWhen::true_;
    branch(n.left, evaluated, evaluated - held, opposite);
  } else if (test_by_index(id)) {
    emit_branch(evaluated, held, taken);
  } else if (!branch_on_bit(id, evaluated, held, taken)) {
    compare(id);
    emit_branch(evaluated, held, taken);
  }
  now_ = outer;
}

// x & (1 << k) compared with zero, or (x >> k) & 1: the tested value and its bit.
std::optional<NodeId> Generator::single_bit_tested(NodeId id, unsigned& bit) const {
  const Node* n = &node(id);
  const bool compares = n->op == Operator::equal || n->op == Operator::not_equal;
  if (compares) {
    const Node& right = node(n->right);
    if (right.op != Operator::constant || right.value > 1) return std::nullopt;
    n = &node(n->left);
    if (right.value == 1 && bit_bound(program_, node(id).left) != 1) return std::nullopt;
  }
  while (n->op == Operator::cast) n = &node(n->left);
  if (n->op != Operator::bit_and || node(n->right).op != Operator::constant) return std::nullopt;
  const auto mask = node(n->right).value;
  if (!std::has_single_bit(mask)) return std::nullopt;
  bit = static_cast<unsigned>(std::countr_zero(mask));
  const Node& inner = node(n->left);
  if (inner.op == Operator::shift_right && node(inner.right).op == Operator::constant) {
    bit += node(inner.right).value;
    return inner.left;
  }
  return n->left;
}

bool Generator::branch_on_bit(NodeId id, const Frequency& evaluated, const Frequency& held, TakenWhen taken) {
  unsigned bit = 0;
  const auto tested = single_bit_tested(id, bit);
  if (!tested) return false;
  const unsigned word = 1U << (bit / word_bits_);
  const auto v = value(*tested, word);
  if (v.kind == Kind::memory) emit(Operation::load_static, 1);
  const unsigned bits = bits_of(node(*tested).type);
  const bool is_sign = bit == bits - 1 && bits < word_bits_;
  if (core_.shifter == Shifter::sequential && is_sign) {
    // Tested as the sign of the value, brought to the top and back.
    const unsigned distance = word_bits_ - bits;
    emit(Operation::shift_base, 2);
    emit(Operation::shift_bit, 2 * shift_steps(distance), 0, now_);
  } else {
    emit(Operation::bit_branch, v.kind == Kind::memory ? 0 : 1);
  }
  emit_branch(evaluated, held, taken);
  return true;
}

// Emits what sets the flags for the branch (nothing where branches compare by themselves).
void Generator::compare(NodeId id) {
  const Node& n = node(id);
  const bool is_comparison = n.op >= Operator::equal && n.op <= Operator::less_equal_signed;
  if (!is_comparison) {
    compare_with_constant(id, id, 0);
    return;
  }
  if (node(n.right).op == Operator::constant) {
    compare_with_constant(id, n.left, node(n.right).value);
    return;
  }
  if (node(n.left).op == Operator::constant) {
    compare_with_constant(id, n.right, node(n.left).value);
    return;
  }
  const auto wider = std::max(node(n.left).type, node(n.right).type);
  const auto left = value(n.left, all_words(wider));
  clean(n.left);
  const auto right = value(n.right, all_words(wider));
  clean(n.right);
  const double count = std::max(1U, words_in(left.words | right.words));
  if (is_memory() && (left.kind == Kind::memory || right.kind == Kind::memory)) {
    if (left.kind == Kind::memory && right.kind == Kind::memory) in_register(left);
    emit(Operation::load_static, count);
  } else {
    emit(Operation::compare, count);
  }
  if (is_accumulator() && left.kind != Kind::temporary) emit(Operation::move, count);
  if (is_memory()) emit(Operation::branch_not_taken, count - 1);
}

// Accumulator cores: word after word until one differs, mostly the first. Each further word is executed in 30
// % of comparisons: chosen between never (values that differ in the low byte) and always (equal values).
void Generator::compare_word_by_word(const Node& variable) {
  const double later = words(variable.type) - 1;
  const double compared = 1 + 0.3 * later;
  const auto& info = program_.variables[variable.index];
  const bool is_own = info.storage == Storage::local || info.storage == Storage::parameter;
  const bool is_register = is_own && placement_.in_register[variable.index];
  if (is_own && !is_register) {
    // Brought to registers once, then compared there.
    variable_value(variable, all_words(variable.type));
  } else if (!is_register) {
    emit(Operation::load_static, compared, 1 + later, now_);
  } else {
    emit(Operation::move, compared, 1 + later, now_);
  }
  emit(Operation::compare_constant, compared, 1 + later, now_);
}

void Generator::compare_with_constant(NodeId id, NodeId left, std::uint32_t constant) {
  const Node& n = node(left);
  const bool is_zero = constant == 0;
  const auto op = node(id).op;
  const bool is_equality = op == Operator::equal || op == Operator::not_equal || id == left;
  if (is_accumulator() && is_equality && words(n.type) > 1 && n.op == Operator::variable) {
    compare_word_by_word(n);
    return;
  }
  const auto v = value(left, all_words(n.type));
  clean(left);
  const unsigned active = std::max(1U, v.words);
  if (is_zero && is_equality && v.sets_flags && words_in(active) == 1 && !is_accumulator()) return;
  if (is_accumulator() && v.kind != Kind::temporary) emit(Operation::move, words_in(active));
  if (is_memory() && is_equality && !is_zero && words_in(active) > 1) {
    // Differences of all words are gathered and tested once.
    const double count = words_in(active);
    in_register(v);
    emit(Operation::move, count);
    emit(Operation::xor_constant, count);
    emit(Operation::logic, count - 1);
    return;
  }
  for (unsigned i = 0; i < words(n.type); ++i) {
    if (!(active & (1U << i))) continue;
    const auto word = word_of(constant, i);
    if (v.kind == Kind::memory) {
      emit(Operation::load_static, 1);
    } else if (word == 0 || known_.constants.contains(word)) {
      emit(Operation::compare, 1);
    } else if (is_memory() && is_free_constant(word)) {
      emit(Operation::compare, 1);
    } else if (fits_instruction(word)) {
      emit(Operation::compare_constant, 1);
    } else {
      if (emit_before_loops(Operation::constant_large, 1)) known_.constants.insert(word);
      emit(Operation::compare, 1);
    }
  }
  if (is_memory() && !is_zero) emit(Operation::branch_not_taken, words_in(active) - 1);
}

}  // namespace portweigh::firmware

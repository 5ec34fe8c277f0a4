#include <algorithm>
#include <bit>

#include "firmware/generator.hpp"

namespace portweigh::firmware {

void Generator::Known::keep_common(const Known& other) {
  std::erase_if(variables, [&](std::size_t i) { return !other.variables.contains(i); });
  std::erase_if(addresses, [&](std::size_t i) { return !other.addresses.contains(i); });
  std::erase_if(constants, [&](std::uint32_t i) { return !other.constants.contains(i); });
  base = base && other.base;
  port_base = port_base && other.port_base;
}

void Generator::emit(Operation operation, double amount) {
  emit(operation, amount, amount, now_);
}

void Generator::emit(Operation operation, double amount, double copies, const Frequency& frequency) {
  if (amount <= 0 && copies <= 0) return;
  listing_.code.push_back({operation, amount, is_shared_code_ ? 0.0 : copies * turns_, frequency});
}

// True if the result is worth keeping and there is a register for it.
bool Generator::emit_before_loops(Operation operation, double amount) {
  const bool can_keep = spare_registers_ >= 1 && !is_accumulator();
  if (can_keep) spare_registers_ -= 1;
  emit(operation, amount, amount, can_keep && !loops_.empty() ? loops_.front().entry : now_);
  return can_keep;
}

unsigned Generator::words(Type type) const {
  return (bits_of(type) + word_bits_ - 1) / word_bits_;
}

std::uint32_t Generator::word_of(std::uint32_t constant, unsigned word) const {
  if (word * word_bits_ >= 32) return 0;
  const std::uint64_t mask = (std::uint64_t{1} << word_bits_) - 1;
  return static_cast<std::uint32_t>((std::uint64_t{constant} >> (word * word_bits_)) & mask);
}

bool Generator::is_full_word(std::uint32_t word) const {
  return word == static_cast<std::uint32_t>((std::uint64_t{1} << word_bits_) - 1);
}

// Cores with operands in memory encode these without a further word: 0 and the single bits up to 8 that steps
// and masks use most, and all ones.
bool Generator::is_free_constant(std::uint32_t word) const {
  return word <= 2 || word == 4 || word == 8 || is_full_word(word);
}

// Negative constants fit where instructions sign-extend theirs (three-address cores).
bool Generator::fits_instruction(std::uint32_t word) const {
  const auto limit = std::uint64_t{1} << static_cast<unsigned>(core_.constant_bits);
  return word < limit || (core_.operands == Operands::three_address && ~word < limit);
}

bool Generator::is_variable(NodeId id, std::size_t variable) const {
  return id != none && node(id).op == Operator::variable && node(id).index == variable;
}

void Generator::need_base() {
  if (core_.static_access == StaticAccess::direct || known_.base) return;
  emit_before_loops(Operation::address, 1);
  known_.base = true;
}

void Generator::need_port_base() {
  if (core_.static_access == StaticAccess::direct || known_.port_base) return;
  emit_before_loops(Operation::address, 1);
  known_.port_base = true;
}

void Generator::load_constant(std::uint32_t constant, unsigned mask) {
  for (unsigned i = 0; i < words(Type::u32); ++i) {
    if (!(mask & (1U << i))) continue;
    const auto word = word_of(constant, i);
    emit(fits_instruction(word) ? Operation::constant : Operation::constant_large, 1);
  }
}

Generator::Value Generator::in_register(Value v) {
  if (v.kind == Kind::memory) emit(Operation::load_static, words_in(v.words));
  if (v.kind == Kind::constant) load_constant(v.constant, std::max(v.words, 1U));
  if (v.kind == Kind::memory || v.kind == Kind::constant) v.kind = Kind::temporary;
  return v;
}

// Zero-extends a narrow result whose upper bits may be wrong, where the register is wider than the type.
void Generator::clean(NodeId id) {
  const auto bits = bits_of(node(id).type);
  if (bits >= word_bits_ || bit_bound(program_, id) <= bits) return;
  emit(bits == 8 ? Operation::extend_byte : Operation::extend_half, 1);
}

Generator::Value Generator::value(NodeId id, unsigned demand, std::size_t target) {
  const Node& n = node(id);
  demand &= all_words(n.type) & ~zero_words(program_, id, word_bits_);
  if (demand == 0 && n.op != Operator::constant) return {.kind = Kind::constant, .words = 0};
  switch (n.op) {
    case Operator::constant:
      return {.kind = Kind::constant, .words = demand, .constant = n.value};
    case Operator::variable:
      return variable_value(n, demand);
    case Operator::element:
      return element_value(n, demand);
    case Operator::cast: {
      const auto inner = value(n.left, demand, target);
      if (bits_of(n.type) > bits_of(node(n.left).type)) clean(n.left);
      return inner;
    }
    case Operator::cast_signed:
      return cast_signed_value(n, demand, target);
    case Operator::complement: {
      auto inner = in_register(value(n.left, demand, target));
      own_copy(inner, is_variable(n.left, target), n.op);
      emit(Operation::logic, words_in(demand));
      return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
    }
    case Operator::select:
      return select_value(n, demand, target);
    case Operator::multiply:
      return multiply_value(n, demand, target);
    case Operator::shift_left:
    case Operator::shift_right:
    case Operator::shift_right_signed:
      return shift_value(id, demand, target);
    case Operator::add:
    case Operator::subtract:
    case Operator::bit_and:
    case Operator::bit_or:
    case Operator::bit_xor:
      return binary_value(id, demand, target);
    default:
      return truth_value(id);
  }
}

// The accumulator core's data pointer still points at the variable it fetched or stored last; its setting is
// half of the access.
void Generator::emit_access(Operation operation, std::size_t variable, double count) {
  const bool is_there = is_accumulator() && count == 1 && pointed_at_ == variable;
  emit(operation, is_there ? 0.5 : count);
  pointed_at_ = count == 1 ? variable : no_target;
}

// Static data lie in order of their first use; arrays push later variables out of reach.
Generator::Far Generator::find_far() const {
  Far far;
  if (core_.static_access == StaticAccess::direct) return far;
  std::set<std::size_t> variables;
  std::set<std::size_t> arrays;
  double offset = 0;
  for (const auto& n : program_.nodes) {
    const double size = bytes_of(n.type);
    const bool is_variable = n.op == Operator::variable;
    const bool is_array = n.op == Operator::element;
    if (is_variable && program_.variables[n.index].storage == Storage::state &&
        variables.insert(n.index).second) {
      if (offset > core_.static_reach * size) far.variables.insert(n.index);
      offset += size;
    }
    if (is_array && program_.arrays[n.index].storage == Storage::state && arrays.insert(n.index).second) {
      if (offset > core_.static_reach * size) far.arrays.insert(n.index);
      offset += size * static_cast<double>(program_.arrays[n.index].length);
    }
  }
  return far;
}

// The offset goes to a register first; code for size adds it to a copy of the base.
void Generator::emit_reach(std::size_t variable) {
  if (far_.variables.contains(variable)) emit(Operation::constant, is_for_size() ? 2 : 1);
}

// A pointer passed by the caller; the accumulator's compiler calls a routine for each byte behind it.
void Generator::emit_foreign(double count) {
  emit(Operation::foreign_pointer, is_accumulator() ? 1 + 0.4 * (count - 1) : 1);
}

Generator::Value Generator::variable_value(const Node& n, unsigned demand) {
  const auto& info = program_.variables[n.index];
  const double count = words_in(demand);
  switch (info.storage) {
    case Storage::local:
    case Storage::parameter:
      if (is_unrolled_constant(n.index)) return {.kind = Kind::constant, .words = demand, .constant = 1};
      if (placement_.in_register[n.index]) return {.kind = Kind::variable, .words = demand};
      if (is_accumulator()) break;
      emit(Operation::load_indirect, count);
      return {.kind = Kind::temporary, .words = demand};
    case Storage::port:
      need_port_base();
      emit_access(Operation::port_read, n.index, count);
      return {.kind = Kind::temporary, .words = demand};
    default:
      break;
  }
  if (known_.variables.contains(n.index)) return {.kind = Kind::variable, .words = demand};
  if (demand == all_words(n.type)) known_.variables.insert(n.index);
  if (info.storage == Storage::field) {
    emit_foreign(count);
    emit(Operation::load_indirect, count);
    return {.kind = Kind::temporary, .words = demand};
  }
  if (is_memory()) {
    known_.variables.erase(n.index);
    return {.kind = Kind::memory, .words = demand};
  }
  need_base();
  emit_reach(n.index);
  emit_access(Operation::load_static, n.index, count);
  return {.kind = Kind::temporary, .words = demand};
}

// A constant, also where a loop is unrolled.
bool Generator::is_known_index(NodeId id) const {
  const Node& n = node(id);
  return n.op == Operator::constant || (n.op == Operator::variable && is_unrolled_constant(n.index));
}

// Whether a pointer steps through the array. A narrow index may wrap around, which a pointer would not,
// unless the loop bounds it.
bool Generator::walks(const Node& element) const {
  const Node& index = node(element.left);
  return !is_accumulator() && index.op == Operator::variable && !loops_.empty() &&
         placement_.stepped[index.index] &&
         (bits_of(index.type) >= core_.pointer_bits || is_bounded_counter(index.index));
}

void Generator::element_address(const Node& n) {
  const auto& array = program_.arrays[n.index];
  const Node& index = node(n.left);
  const bool is_fixed = is_known_index(n.left);
  const bool is_own = array.storage != Storage::field;
  if (!is_own) emit_foreign(words(array.type));
  pointed_at_ = no_target;
  // An access through a pointer reaches 32 elements by displacement: the shortest displacement field in
  // common use has five bits.
  if (is_fixed && (is_own || index.op != Operator::constant || index.value < 32)) {
    if (is_own && array.storage == Storage::state) need_base();
    return;
  }
  const bool is_near = array.storage == Storage::state && core_.static_access == StaticAccess::base &&
                       !far_.arrays.contains(n.index);
  if (is_near) {
    need_base();
  } else if (is_own && !known_.addresses.contains(n.index)) {
    const bool is_kept = emit_before_loops(Operation::address, 1);
    if (is_kept) known_.addresses.insert(n.index);
  }
  if (walks(n)) return;
  in_register(value(n.left, all_words(index.type)));
  clean(n.left);
  const unsigned doublings = bytes_of(array.type) == 4 ? 2 : bytes_of(array.type) == 2 ? 1 : 0;
  if (core_.shifter == Shifter::one_bit) {
    emit(Operation::scale, doublings);
  } else if (doublings > 0) {
    emit(Operation::scale, 1);
  }
  // The accumulator itself indexes byte tables in program memory.
  const bool is_byte_table = array.storage == Storage::flash && bytes_of(array.type) == 1;
  const bool is_in_accumulator = is_accumulator() && is_byte_table && bits_of(index.type) == 8;
  emit(Operation::index, is_in_accumulator ? 0 : 1);
  // A mixed core's access adds an index to an address, but not a displacement too.
  if (is_near && core_.operands == Operands::mixed) emit(Operation::add_constant, 1);
}

Generator::Value Generator::element_value(const Node& n, unsigned demand) {
  const auto& array = program_.arrays[n.index];
  const bool is_known = is_known_index(n.left);
  if (is_known && array.storage == Storage::flash && is_memory()) {
    // Known when it is built: any constant that needs a word of its own costs the same.
    return {.kind = Kind::constant, .words = demand, .constant = 3};
  }
  const double repeats = is_known ? repeats_of_element(n) : 1;
  if (repeats > 1) {
    const double count = words_in(demand);
    emit(Operation::load_static, count, count / repeats, now_.scaled(1 / repeats));
    return {.kind = Kind::variable, .words = demand};
  }
  element_address(n);
  const bool is_fixed = is_known && array.storage == Storage::state;
  const auto load = array.storage == Storage::flash ? Operation::load_table
                    : is_fixed                      ? Operation::load_static
                                                    : Operation::load_indirect;
  // Where operands may be in memory, the operation that uses the element fetches it.
  if (is_memory()) return {.kind = Kind::memory, .words = demand};
  emit(load, words_in(demand));
  return {.kind = Kind::temporary, .words = demand};
}

// Two-address instructions destroy their first operand: a variable that lives on is copied first.
void Generator::own_copy(Value& left, bool is_target, Operator op) {
  if (left.kind != Kind::variable || is_target) return;
  const bool is_sum = op == Operator::add || op == Operator::subtract;
  const bool copies = core_.operands == Operands::two_address || core_.operands == Operands::memory ||
                      core_.operands == Operands::accumulator ||
                      (core_.operands == Operands::mixed && !is_sum && op != Operator::complement);
  if (copies) emit(Operation::move, words_in(left.words));
}

Generator::Value Generator::binary_value(NodeId id, unsigned demand, std::size_t target) {
  const Node& n = node(id);
  const bool is_sum = n.op == Operator::add || n.op == Operator::subtract;
  const unsigned needed = is_sum ? (1U << std::bit_width(demand)) - 1U : demand;
  NodeId left_id = n.left;
  NodeId right_id = n.right;
  const bool is_commutative = n.op != Operator::subtract;
  if (is_commutative && (node(left_id).op == Operator::constant || is_variable(right_id, target))) {
    std::swap(left_id, right_id);
  }
  unsigned left_demand = needed;
  if (node(right_id).op == Operator::constant && n.op == Operator::bit_and) {
    for (unsigned i = 0; i < 4; ++i) {
      if (word_of(node(right_id).value, i) == 0) left_demand &= ~(1U << i);
    }
  }
  NodeId masked = left_id;
  while (node(masked).op == Operator::cast) masked = node(masked).left;
  const bool is_masked = n.op == Operator::bit_and && node(right_id).op == Operator::constant &&
                         node(masked).op == Operator::shift_right;
  next_mask_ = is_masked ? node(right_id).value : 0;
  Value left = value(left_id, left_demand, target);
  if (node(right_id).op == Operator::constant) {
    own_copy(left, is_variable(left_id, target), n.op);
    return constant_operand(n, left, node(right_id).value, needed);
  }
  const Value right = value(right_id, needed, no_target);
  if (is_commutative && left.kind == Kind::variable && right.kind == Kind::temporary &&
      !is_variable(left_id, target)) {
    return register_operand(n, right, left, needed, is_commutative);
  }
  own_copy(left, is_variable(left_id, target), n.op);
  return register_operand(n, left, right, needed, is_commutative);
}

Generator::Value Generator::constant_operand(const Node& n, Value left, std::uint32_t constant,
                                             unsigned demand) {
  const bool is_sum = n.op == Operator::add || n.op == Operator::subtract;
  left = in_register(left);
  bool has_started = false;
  for (unsigned i = 0; i < words(n.type); ++i) {
    if (!(demand & (1U << i))) continue;
    const auto word = word_of(constant, i);
    const bool is_neutral = n.op == Operator::bit_and ? is_full_word(word) : word == 0;
    if (is_neutral && !(is_sum && has_started)) continue;
    if (n.op == Operator::bit_and && word == 0) continue;
    has_started = true;
    if (n.op == Operator::bit_and && word_bits_ > 8 && word == 0xFF) {
      emit(Operation::extend_byte, 1);
    } else if (n.op == Operator::bit_and && word_bits_ > 16 && word == 0xFFFF) {
      emit(Operation::extend_half, 1);
    } else if (is_memory() && is_free_constant(word)) {
      emit(Operation::logic, 1);
    } else if (word == 0 || known_.constants.contains(word)) {
      emit(Operation::logic, 1);
    } else if (fits_instruction(word)) {
      emit(is_sum                      ? Operation::add_constant
           : n.op == Operator::bit_xor ? Operation::xor_constant
                                       : Operation::logic_constant,
           1);
    } else {
      if (emit_before_loops(Operation::constant_large, 1)) known_.constants.insert(word);
      emit(Operation::logic, 1);
    }
  }
  if (is_accumulator() && words_in(demand) > 1) emit(Operation::move, words_in(demand));
  return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
}

Generator::Value Generator::register_operand(const Node& n, Value left, Value right, unsigned demand,
                                             bool is_commutative) {
  const bool is_sum = n.op == Operator::add || n.op == Operator::subtract;
  left = in_register(left);
  unsigned worked = is_sum ? demand : left.words & right.words;
  if (n.op == Operator::bit_and) worked = demand & left.words & right.words;
  if (is_sum && word_bits_ == 8 && words_in(right.words) == 0) worked = 0;
  const double count = words_in(worked);
  if (right.kind == Kind::memory) {
    emit(Operation::load_static, words_in(right.words));
    emit(Operation::logic, count - std::min(count, static_cast<double>(words_in(right.words))));
  } else {
    emit(Operation::logic, count);
  }
  if (is_accumulator()) {
    const bool both_computed = left.kind == Kind::temporary && right.kind == Kind::temporary;
    if (both_computed) emit(Operation::move, is_commutative ? 1 : 2);
    if (words_in(demand) > 1) emit(Operation::move, words_in(demand));
  }
  return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
}

namespace {

// Additions that make x times `constant` from shifted copies: non-zero digits of the signed-digit form, less
// one.
unsigned additions_for(std::uint32_t constant) {
  const std::uint64_t wide = constant;
  return static_cast<unsigned>(std::popcount((wide * 3) ^ wide)) - 1U;
}

}  // namespace

Generator::Value Generator::multiply_value(const Node& n, unsigned demand, std::size_t target) {
  NodeId left_id = n.left;
  NodeId right_id = n.right;
  if (node(left_id).op == Operator::constant) std::swap(left_id, right_id);
  const auto left = in_register(value(left_id, all_words(n.type), target));
  const unsigned widest = std::max(bit_bound(program_, n.left), bit_bound(program_, n.right));
  const bool is_short = words_in(demand) * word_bits_ <= 16 || word_bits_ == 32;
  const auto operation = widest <= 8                ? Operation::multiply_8
                         : widest <= 16 && is_short ? Operation::multiply_16
                                                    : Operation::multiply_32;
  if (node(right_id).op == Operator::constant && node(right_id).value > 0) {
    const auto factor = node(right_id).value;
    const unsigned additions = additions_for(factor);
    const double step =
        words_in(demand) * core_[Operation::logic].cycles + core_[Operation::shift_base].cycles;
    // Built for size, a call or multiplication is shorter than three additions and their shifts: chosen.
    const bool is_shifted =
        additions == 0 || (core_.shifter != Shifter::one_bit && (additions <= 2 || !is_for_size()) &&
                           additions * step < core_[operation].cycles);
    if (is_shifted) {
      for (unsigned i = 0; i < additions; ++i) {
        shift_bits(2, 1, Masking::needed);
        emit(Operation::logic, words_in(demand));
      }
      shift_bits(static_cast<unsigned>(std::countr_zero(factor)), words_in(demand), Masking::needed);
      return {.kind = Kind::temporary, .words = demand, .sets_flags = true};
    }
  }
  in_register(value(right_id, all_words(n.type)));
  emit(operation, 1);
  if (operation != Operation::multiply_8) uses_multiply_helper_ = true;
  if (left.kind == Kind::variable && core_.operands == Operands::mixed) emit(Operation::move, 1);
  return {.kind = Kind::temporary, .words = demand};
}

Generator::Value Generator::select_value(const Node& n, unsigned demand, std::size_t target) {
  const auto outer = now_;
  const auto chosen = Frequency::site(program_, n.site);
  branch(n.choice, outer, chosen, TakenWhen::false_);
  const auto before = known_;
  now_ = chosen;
  const auto load = [&](NodeId id) {
    const auto v = value(id, demand, target);
    if (v.kind == Kind::variable && !is_variable(id, target)) emit(Operation::move, words_in(v.words));
    if (v.kind != Kind::variable) in_register(v);
  };
  load(n.left);
  const auto after_left = known_;
  known_ = before;
  now_ = outer - chosen;
  load(n.right);
  known_.keep_common(after_left);
  now_ = outer;
  // One side ends in a jump over the other, unless the compiler loads it before the branch: chosen as often.
  emit(Operation::jump, 0.5);
  return {.kind = Kind::temporary, .words = demand};
}

Generator::Value Generator::cast_signed_value(const Node& n, unsigned demand, std::size_t target) {
  const auto narrow = bits_of(node(n.left).type);
  const auto inner = in_register(value(n.left, demand, target));
  if (bits_of(n.type) <= narrow) return inner;
  if (narrow < word_bits_) emit(narrow == 8 ? Operation::extend_byte : Operation::extend_half, 1);
  const unsigned extra = words(n.type) - words(node(n.left).type);
  if (extra > 0) emit(Operation::logic, 1 + extra);
  return {.kind = Kind::temporary, .words = demand};
}

// A comparison or logical operation whose 0 or 1 is wanted as a number. Chosen: both outcomes are equally
// likely; one loads a constant, the other overwrites it (1.5 loads on average).
Generator::Value Generator::truth_value(NodeId id) {
  const Node& n = node(id);
  if (n.op == Operator::logical_and || n.op == Operator::logical_or) {
    const auto outer = now_;
    branch(id, outer, Frequency::site(program_, n.site).scaled(0.5), TakenWhen::false_);
    now_ = outer;
    emit(Operation::constant, 1.5);
  } else if (core_.operands == Operands::three_address) {
    compare(id);
    emit(Operation::logic, n.op == Operator::equal || n.op == Operator::not_equal ? 2 : 1);
  } else {
    compare(id);
    emit(Operation::constant, 1.5);
    emit(Operation::branch_taken, 0.5, 1, now_);
    emit(Operation::branch_not_taken, 0.5, 0, now_);
  }
  return {.kind = Kind::temporary, .words = 1};
}

}  // namespace portweigh::firmware

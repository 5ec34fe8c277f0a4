#include <algorithm>
#include <cmath>
#include <utility>

#include "firmware/generator.hpp"

namespace portweigh::firmware {

Generator::Generator(const Program& program, const Core& core)
    : program_(program),
      core_(core),
      placement_(place_variables(program, core)),
      far_(find_far()),
      word_bits_(static_cast<unsigned>(core.word_bits)) {}

Listing Generator::run() {
  for (std::size_t i = 0; i < program_.functions.size(); ++i) function(i);
  if (uses_multiply_helper_) listing_.helper_bytes += core_.multiply_helper_bytes;
  return std::move(listing_);
}

void Generator::function(std::size_t index) {
  function_ = index;
  Frequency entries = Frequency::runs();
  if (index > 0) {
    entries = Frequency::runs().scaled(0);
    for (StatementId id = 0; id < program_.statements.size(); ++id) {
      const auto& s = program_.statements[id];
      if (s.kind == StatementKind::call && s.function == index) entries = entries + Frequency::statement(id);
    }
  }
  now_ = entries;
  entries_ = entries;
  saves_return_address_ = false;
  known_ = {};
  tails_.clear();
  continuation_ = function_end;
  const auto& place = placement_.functions[index];
  spare_registers_ = place.spare_registers;
  const double word_bytes = core_.word_bits / 8.0;
  if (is_accumulator()) {
    listing_.ram_bytes += place.spilled_bytes;
  } else {
    if (place.saved_registers > 0) emit(Operation::frame, 1);
    emit(Operation::push, place.saved_registers);
    emit(Operation::pop, place.saved_registers);
    if (place.spilled_bytes > 0)
      emit(Operation::add_constant, 2 * std::ceil(core_.pointer_bits / word_bits_));
    listing_.stack_bytes += place.saved_registers * word_bytes + place.spilled_bytes;
  }
  if (index > 0) {
    emit(Operation::give_back, 1);
    listing_.stack_bytes += std::ceil(core_.pointer_bits / 8.0);
  }
  if (is_accumulator()) take_parameters(program_.functions[index]);
  block(program_.functions[index].body);
}

// Parameters go through external memory: the first arrives in registers and is stored there, the others
// stand there.
void Generator::take_parameters(const Function& function) {
  for (const auto parameter : function.parameters) {
    const double count = words(program_.variables[parameter].type);
    if (parameter == function.parameters.front()) {
      emit(Operation::move, count);
      emit(Operation::store_static, count);
    }
    if (placement_.in_register[parameter]) emit(Operation::load_static, count);
  }
}

// Blocks that end alike and go on to the same place share the code of their common end, apart from constants
// loaded before it.
void Generator::block(const Block& statements) {
  const bool leaves = leaves_function(statements);
  const auto continuation = leaves ? function_end : continuation_;
  const std::size_t shared = shared_end(statements, tails_[continuation]);
  tails_[continuation].push_back(&statements);
  const bool was_shared = is_shared_code_;
  pointed_at_ = no_target;
  for (std::size_t i = 0; i < statements.size(); ++i) {
    const bool is_last = i + 1 == statements.size();
    if (i + shared == statements.size()) {
      emit(Operation::jump, 0, 1, now_);
      is_shared_code_ = true;
    }
    continuation_ = is_last ? continuation : next_continuation_++;
    statement(statements[i]);
  }
  is_shared_code_ = was_shared;
  continuation_ = continuation;
}

void Generator::statement(StatementId id) {
  const auto& s = program_.statements[id];
  const auto outer = now_;
  now_ = Frequency::statement(id);
  if (s.kind != StatementKind::assign) pointed_at_ = no_target;
  switch (s.kind) {
    case StatementKind::assign:
      assign(s.target, s.value);
      break;
    case StatementKind::branch:
      branch_statement(id);
      break;
    case StatementKind::loop:
    case StatementKind::loop_post:
      loop_statement(id);
      break;
    case StatementKind::count:
      count_statement(id);
      break;
    case StatementKind::choose:
      switch_statement(id);
      break;
    case StatementKind::call:
      call_statement(id);
      break;
    case StatementKind::leave:
      if (s.value != none) {
        const auto v = value(s.value, all_words(node(s.value).type));
        cut_result(s.value);
        if (v.kind == Kind::variable) emit(Operation::move, words_in(v.words));
        if (v.kind != Kind::variable) in_register(v);
      }
      if (program_.functions[function_].body.back() != id &&
          placement_.functions[function_].saved_registers > 0) {
        emit(Operation::jump, 1);
      }
      break;
    case StatementKind::stop:
    case StatementKind::next:
      emit(Operation::jump, 1);
      break;
  }
  now_ = outer;
}

// The accumulator's compiler reads static variables again after any store through a computed address.
void Generator::forget_statics() {
  Known kept;
  for (const auto variable : known_.variables) {
    const auto storage = program_.variables[variable].storage;
    if (storage == Storage::local || storage == Storage::parameter) kept.variables.insert(variable);
  }
  known_ = kept;
}

// A computed result is cut to its type at the return; compilers of three-address cores cut it always.
void Generator::cut_result(NodeId id) {
  const Node& n = node(id);
  const bool is_computed = n.op >= Operator::add && n.op <= Operator::shift_left;
  if (core_.operands != Operands::three_address || !is_computed || bits_of(n.type) >= word_bits_) {
    clean(id);
    return;
  }
  emit(bits_of(n.type) == 8 ? Operation::extend_byte : Operation::extend_half, 1);
}

void Generator::assign(NodeId target, NodeId source) {
  const Node& place = node(target);
  if (place.op == Operator::variable) {
    if (is_unrolled_constant(place.index)) return;
    assign_variable(place, source);
    return;
  }
  const auto v = value(source, all_words(place.type));
  const unsigned count = words(place.type);
  if (v.kind == Kind::constant && is_accumulator()) {
    emit(Operation::constant, count);
  } else {
    in_register(v);
    if (is_accumulator() && (v.kind == Kind::variable || count > 1)) emit(Operation::move, count);
  }
  element_address(place);
  const bool is_fixed =
      node(place.left).op == Operator::constant && program_.arrays[place.index].storage == Storage::state;
  emit(is_fixed ? Operation::store_static : Operation::store_indirect, count);
  if (is_accumulator()) forget_statics();
}

void Generator::assign_variable(const Node& target, NodeId source) {
  const auto& info = program_.variables[target.index];
  const bool is_own = info.storage == Storage::local || info.storage == Storage::parameter;
  if (info.storage == Storage::port && update_port_bit(target, source)) return;
  if (info.storage == Storage::state && update_in_memory(target, source)) return;
  const bool in_loop_register = !loops_.empty() && loops_.back().promoted.contains(target.index);
  const bool stays = (is_own && placement_.in_register[target.index]) || in_loop_register;
  const auto v = value(source, all_words(target.type), stays ? target.index : no_target);
  if (in_loop_register && !loops_.back().stored.contains(target.index)) {
    loops_.back().dirty.insert(target.index);
  }
  if (stays) {
    store_in_register(target, v, source);
    if (in_loop_register && loops_.back().stored.contains(target.index)) {
      emit(Operation::store_static, words(target.type));
    }
    if (!is_own) known_.variables.insert(target.index);
    return;
  }
  const unsigned count = words(target.type);
  if (info.storage == Storage::state || (is_own && is_accumulator())) {
    store_static(target, v);
    return;
  }
  in_register(v);
  if (info.storage == Storage::port) {
    need_port_base();
    emit_access(Operation::port_write, target.index, count);
    return;
  }
  if (info.storage == Storage::field) {
    emit_foreign(count);
    known_.variables.insert(target.index);
  }
  emit(Operation::store_indirect, count);
}

void Generator::store_in_register(const Node& target, const Value& v, NodeId source) {
  const unsigned all = all_words(target.type);
  const unsigned zero = all & ~v.words;
  if (v.kind == Kind::constant) {
    load_constant(v.constant, all);
    return;
  }
  if (v.kind == Kind::memory) emit(Operation::load_static, words_in(v.words));
  if (v.kind == Kind::variable && !is_variable(source, target.index)) {
    emit(Operation::move, words_in(v.words) * (is_accumulator() ? 2U : 1U));
  }
  if (v.kind == Kind::temporary && is_accumulator() && words_in(v.words) <= 1) emit(Operation::move, 1);
  if (bits_of(target.type) < bits_of(node(source).type) && bits_of(target.type) < word_bits_ &&
      bit_bound(program_, source) > bits_of(target.type)) {
    emit(bits_of(target.type) == 8 ? Operation::extend_byte : Operation::extend_half, 1);
  } else {
    clean(source);
  }
  emit(Operation::constant, words_in(zero));
}

void Generator::store_static(const Node& target, Value v) {
  const unsigned count = words(target.type);
  need_base();
  if (is_memory() && v.kind == Kind::constant) {
    // A constant goes to memory in one instruction; one that is not free takes an extension word.
    emit(Operation::store_static, count);
    if (v.constant > 2) emit(Operation::constant, 0.5 * count);
    return;
  }
  v = in_register(v);
  if (v.words == 0 && word_bits_ > 8) emit(Operation::constant, 1);
  emit_reach(target.index);
  emit_access(Operation::store_static, target.index, count);
  // The accumulator's compiler reads a static variable again after storing it.
  if (is_accumulator() && program_.variables[target.index].storage == Storage::state) {
    known_.variables.erase(target.index);
  } else {
    known_.variables.insert(target.index);
  }
}

// Memory operands: variable = variable op value without passing through a register.
bool Generator::update_in_memory(const Node& target, NodeId source) {
  if (!is_memory() || known_.variables.contains(target.index)) return false;
  if (!loops_.empty() && loops_.back().promoted.contains(target.index)) return false;
  const Node& operation = node(source);
  const bool is_simple = operation.op == Operator::add || operation.op == Operator::subtract ||
                         operation.op == Operator::bit_and || operation.op == Operator::bit_or ||
                         operation.op == Operator::bit_xor;
  if (!is_simple || !is_variable(operation.left, target.index)) return false;
  const unsigned count = words(target.type);
  const auto right = value(operation.right, all_words(target.type));
  if (right.kind == Kind::memory) in_register(right);
  if (right.kind == Kind::constant && right.constant > 2) emit(Operation::constant, 0.5);
  emit(Operation::store_static, count);
  return true;
}

// port = port | one bit, port = port & all but one bit.
bool Generator::update_port_bit(const Node& target, NodeId source) {
  const Node& operation = node(source);
  const bool is_bit_operation = operation.op == Operator::bit_or || operation.op == Operator::bit_and;
  if (!is_bit_operation || !is_variable(operation.left, target.index)) return false;
  const Node& mask = node(operation.right);
  if (mask.op != Operator::constant) return false;
  const auto changed = operation.op == Operator::bit_or ? mask.value : ~mask.value & mask_of(target.type);
  if (__builtin_popcount(changed) != 1) return false;
  emit(Operation::port_bit, 1);
  return true;
}

bool Generator::leaves_function(const Block& statements) const {
  return !statements.empty() && program_.statements[statements.back()].kind == StatementKind::leave;
}

bool Generator::ends_with_jump(const Block& statements) const {
  if (statements.empty()) return false;
  const auto kind = program_.statements[statements.back()].kind;
  return kind == StatementKind::leave || kind == StatementKind::stop || kind == StatementKind::next;
}

// Both sides set the same variable, one to a value that the other goes on with: compilers work that value out
// before the branch. Two-address cores built for size do so in a copy, which both sides then move; for
// memory-operand cores the choice is made word by word, each with its branch.
void Generator::choose_between(const Statement& s, const Frequency& reached, const Frequency& held) {
  if (s.first.size() != 1 || s.second.size() != 1) return;
  const auto& one = program_.statements[s.first[0]];
  const auto& other = program_.statements[s.second[0]];
  if (one.kind != StatementKind::assign || other.kind != StatementKind::assign) return;
  if (!is_same_value(one.target, other.target) || node(one.target).op != Operator::variable) return;
  if (!is_same_value(node(one.value).left, other.value) &&
      !is_same_value(one.value, node(other.value).left)) {
    return;
  }
  if (node(one.value).op == Operator::constant || node(other.value).op == Operator::constant) return;
  const double count = words(node(one.target).type);
  if (core_.operands == Operands::two_address && is_for_size()) {
    emit(Operation::move, 2 * count, 3 * count, reached);
  } else if (is_memory() && count > 1) {
    emit(Operation::move, 1, 1, reached);
    emit(Operation::logic, 1, 1, reached);
    emit(Operation::compare, count, count, reached);
    emit(Operation::branch_taken, count - 1, count - 1, reached - held);
    emit(Operation::branch_not_taken, count - 1, 0, held);
  }
}

void Generator::branch_statement(StatementId id) {
  const auto& s = program_.statements[id];
  const auto reached = Frequency::statement(id);
  const auto held = Frequency::site(program_, s.site);
  const bool only_jumps = s.second.empty() && s.first.size() == 1 && ends_with_jump(s.first) &&
                          program_.statements[s.first[0]].value == none;
  if (only_jumps) {
    branch(s.value, reached, held, TakenWhen::true_);
    return;
  }
  // A block that leaves the function is put out of the way.
  const bool is_aside = s.second.empty() && leaves_function(s.first);
  if ((s.first.empty() && !s.second.empty()) || is_aside) {
    branch(s.value, reached, held, TakenWhen::true_);
  } else {
    branch(s.value, reached, held, TakenWhen::false_);
  }
  choose_between(s, reached, held);
  const auto before = known_;
  now_ = held;
  block(s.first);
  const bool needs_jump = !s.first.empty() && !s.second.empty() && !goes_on_by_itself(s.first);
  if (needs_jump) jump_on();
  const auto after_first = known_;
  known_ = before;
  now_ = reached - held;
  block(s.second);
  if (ends_with_jump(s.first)) return;
  if (ends_with_jump(s.second)) {
    known_ = after_first;
  } else {
    known_.keep_common(after_first);
  }
}

void Generator::call_statement(StatementId id) {
  const auto& s = program_.statements[id];
  for (const auto argument : s.arguments) {
    const auto v = value(argument, all_words(node(argument).type));
    const bool is_stored = v.kind == Kind::variable || (is_accumulator() && v.kind != Kind::constant);
    if (is_stored) emit(Operation::move, words_in(v.words));
    if (v.kind != Kind::variable) in_register(v);
  }
  emit(Operation::call, 1);
  known_ = {};
  if (s.target == none) return;
  const Node& target = node(s.target);
  const double count = words(target.type);
  if (target.op == Operator::element) {
    element_address(target);
    emit(Operation::store_indirect, count);
    return;
  }
  const auto storage = program_.variables[target.index].storage;
  if (storage == Storage::state) {
    store_static(target, {.kind = Kind::temporary, .words = all_words(target.type)});
  } else if (storage == Storage::port) {
    emit(Operation::port_write, count);
  } else if (storage == Storage::field) {
    emit(Operation::store_indirect, count);
  } else {
    emit(Operation::move, count);
  }
}

namespace {

Listing middle_of(Listing size, Listing speed) {
  for (auto* const listing : {&size, &speed}) {
    for (auto& instruction : listing->code) {
      instruction.amount /= 2;
      instruction.copies /= 2;
    }
  }
  size.code.insert(size.code.end(), speed.code.begin(), speed.code.end());
  size.stack_bytes = std::max(size.stack_bytes, speed.stack_bytes);
  size.ram_bytes = std::max(size.ram_bytes, speed.ram_bytes);
  size.helper_bytes = std::max(size.helper_bytes, speed.helper_bytes);
  return size;
}

}  // namespace

Listing translate(const Program& program, const Core& core) {
  if (core.goal != Goal::middle) return Generator(program, core).run();
  return middle_of(translate(program, built_for(core, Goal::size)),
                   translate(program, built_for(core, Goal::speed)));
}

}  // namespace portweigh::firmware

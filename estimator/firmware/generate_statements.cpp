#include <algorithm>
#include <cmath>
#include <utility>

#include "firmware/generator.hpp"

namespace portweigh::firmware {

Generator::Generator(const Program& program, const Core& core)
    : program_(program),
      core_(core),
      placement_(place_variables(program, core)),
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
  block(program_.functions[index].body);
}

// Blocks that end alike and go on to the same place share the code of their common end, apart from constants
// loaded before it.
void Generator::block(const Block& statements) {
  const bool leaves = leaves_function(statements);
  const auto continuation = leaves ? function_end : continuation_;
  const std::size_t shared = shared_end(statements, tails_[continuation]);
  tails_[continuation].push_back(&statements);
  const bool was_shared = is_shared_code_;
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
  if (is_accumulator()) known_ = {};  // compilers of the class read a static variable each time
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

void Generator::assign(NodeId target, NodeId source) {
  const Node& place = node(target);
  if (place.op == Operator::variable) {
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
}

void Generator::assign_variable(const Node& target, NodeId source) {
  const auto& info = program_.variables[target.index];
  const bool is_own = info.storage == Storage::local || info.storage == Storage::parameter;
  if (info.storage == Storage::port && update_port_bit(target, source)) return;
  if (info.storage == Storage::state && update_in_memory(target, source)) return;
  const bool in_loop_register = !loops_.empty() && loops_.back().promoted.contains(target.index);
  const bool stays = (is_own && placement_.in_register[target.index]) || in_loop_register;
  const auto v = value(source, all_words(target.type), stays ? target.index : no_target);
  if (in_loop_register) loops_.back().dirty.insert(target.index);
  if (stays) {
    store_in_register(target, v, source);
    if (!is_own) known_.variables.insert(target.index);
    return;
  }
  const unsigned count = words(target.type);
  if (info.storage == Storage::state) {
    store_static(target, v);
    return;
  }
  in_register(v);
  if (info.storage == Storage::port) {
    need_port_base();
    emit(Operation::port_write, count);
    return;
  }
  if (info.storage == Storage::field) {
    emit(Operation::foreign_pointer, 1);
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
  emit(Operation::store_static, count);
  known_.variables.insert(target.index);
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

void Generator::loop_statement(StatementId id) {
  const auto& s = program_.statements[id];
  const auto entered = Frequency::statement(id);
  const auto held = Frequency::site(program_, s.site);
  const auto evaluated = entered + held - exits_of(s.first, false);
  enter_loop(s.first, s);
  const bool is_endless = node(s.value).op == Operator::constant && node(s.value).value != 0;
  if (s.kind == StatementKind::loop && !is_endless) branch(s.value, evaluated, held, TakenWhen::false_);
  now_ = s.kind == StatementKind::loop ? held : entered + held;
  const auto after = std::exchange(continuation_, next_continuation_++);
  block(s.first);
  continuation_ = after;
  now_ = held;
  if (s.kind == StatementKind::loop && !ends_with_jump(s.first)) jump_back(is_endless);
  if (s.kind == StatementKind::loop_post) branch(s.value, evaluated, held, TakenWhen::true_);
  now_ = entered;
  leave_loop();
}

// Code for size tests a loop once, at its top, and jumps back there; code for speed tests again at the end.
// Compilers of the classes differ: always at the end, by what is asked for, always at the top.
void Generator::jump_back(bool is_endless) {
  const double share = is_endless || is_accumulator() ? 1.0 : is_memory() ? 0.0 : is_for_size() ? 1.0 : 0.0;
  emit(Operation::jump, share, is_endless ? 1.0 : share, now_);
}

void Generator::count_statement(StatementId id) {
  const auto& s = program_.statements[id];
  const Node& counter = node(s.target);
  const auto entered = Frequency::statement(id);
  const auto bodies = Frequency::site(program_, s.site);
  const double count = words(counter.type);
  const bool is_fixed = node(s.value).op == Operator::constant;
  const bool counts_down = !uses_counter_beyond_indexing(s.first, counter.index);
  if (!is_fixed) value(s.value, all_words(node(s.value).type));
  emit(Operation::constant, count);
  enter_loop(s.first, s);
  now_ = bodies;
  const auto after = std::exchange(continuation_, next_continuation_++);
  block(s.first);
  continuation_ = after;
  const auto stepped = bodies - exits_of(s.first, false);
  now_ = stepped;
  if (placement_.in_register[counter.index]) {
    emit(is_memory() ? Operation::logic : Operation::add_constant, count);  // one is a free constant
  } else {
    emit(Operation::load_indirect, count);
    emit(Operation::add_constant, count);
    emit(Operation::store_indirect, count);
  }
  // A narrow counter is cut to its type, which spoils the flags.
  const bool is_narrow = bits_of(counter.type) < word_bits_;
  if (is_narrow) emit(bits_of(counter.type) == 8 ? Operation::extend_byte : Operation::extend_half, 1);
  const auto finished = entered - exits_of(s.first, false);
  if (is_fixed) {
    if (!counts_down) emit(Operation::compare_constant, count);
    if (counts_down && is_narrow && !is_memory()) emit(Operation::compare, count);
    emit_branch(stepped, stepped - finished, TakenWhen::true_);
  } else {
    jump_back(false);  // the number of turns may be 0
    now_ = bodies + finished;
    emit(Operation::compare, count);
    emit_branch(bodies + finished, finished, TakenWhen::true_);
  }
  now_ = entered;
  leave_loop();
}

// Control goes on where the block around goes on; where that is the end of a function that has nothing to
// restore, a return stands in place of the jump and is the function's own.
void Generator::jump_on() {
  const bool is_return =
      continuation_ == function_end && placement_.functions[function_].saved_registers == 0;
  emit(Operation::jump, is_return ? 0 : 1, 1, now_);
}

// Neighbouring values with the same code are one range to a compiler.
std::size_t Generator::case_ranges(const Statement& s) const {
  std::map<std::uint32_t, const Block*> bodies;
  for (const auto& one : s.cases) bodies.emplace(one.value, &one.body);
  std::size_t ranges = bodies.size();
  for (auto at = bodies.begin(); at != bodies.end(); ++at) {
    const auto next = std::next(at);
    if (next == bodies.end() || next->first != at->first + 1) continue;
    const Block& body = *at->second;
    if (body.size() == next->second->size() && shared_end(body, {next->second}) == body.size()) --ranges;
  }
  return ranges;
}

bool Generator::uses_dispatch(const Statement& s, std::size_t ranges) const {
  if (static_cast<double>(ranges) < core_.dispatch_cases) return false;
  std::uint32_t lowest = s.cases.front().value;
  std::uint32_t highest = lowest;
  for (const auto& one : s.cases) {
    lowest = std::min(lowest, one.value);
    highest = std::max(highest, one.value);
  }
  const double entries = static_cast<double>(highest - lowest) + 1;
  return entries <= core_.dispatch_span * static_cast<double>(ranges);
}

// Leaves what remains for the default.
Frequency Generator::select_case(const Statement& s, const Frequency& reached) {
  const std::size_t ranges = case_ranges(s);
  const double count = static_cast<double>(ranges);
  const double compared = words(node(s.value).type);
  auto remaining = reached;
  if (uses_dispatch(s, ranges)) {
    emit(Operation::compare_constant, compared);
    emit(Operation::branch_not_taken, 1, 1, reached);
    emit(Operation::dispatch, 1);
    // Entries are addresses among the constants, or jumps.
    if (is_accumulator()) emit(Operation::jump, 0, static_cast<double>(s.cases.size()), reached);
  } else if (s.cases.size() > 4) {
    const double depth = std::log2(count) + 1;
    emit(Operation::compare_constant, compared * depth, compared * count, reached);
    emit(Operation::branch_taken, depth / 2, count * 1.3, reached);
    emit(Operation::branch_not_taken, depth / 2, 0, reached);
  } else {
    for (const auto& one : s.cases) {
      now_ = remaining;
      emit(one.value == 0 ? Operation::compare : Operation::compare_constant, compared);
      const auto chosen = Frequency::site(program_, one.site);
      emit_branch(remaining, chosen, TakenWhen::true_);
      remaining = remaining - chosen;
    }
    return remaining;
  }
  for (const auto& one : s.cases) remaining = remaining - Frequency::site(program_, one.site);
  return remaining;
}

// A switch at the end of a block goes on by itself.
bool Generator::goes_on_by_itself(const Block& statements) const {
  return !statements.empty() &&
         (ends_with_jump(statements) || program_.statements[statements.back()].kind == StatementKind::choose);
}

// Few cases are compared one after the other, many by halving or through a table.
void Generator::switch_statement(StatementId id) {
  const auto& s = program_.statements[id];
  const auto reached = Frequency::statement(id);
  value(s.value, all_words(node(s.value).type));
  clean(s.value);
  const auto remaining = select_case(s, reached);
  if (is_accumulator()) emit(Operation::move, 1);
  const auto before = known_;
  auto common = before;
  for (const auto& one : s.cases) {
    known_ = before;
    now_ = Frequency::site(program_, one.site);
    block(one.body);
    if (!goes_on_by_itself(one.body)) jump_on();
    if (!ends_with_jump(one.body)) common.keep_common(known_);
  }
  known_ = before;
  now_ = remaining;
  block(s.second);
  known_.keep_common(common);
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

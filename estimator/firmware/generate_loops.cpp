#include <algorithm>
#include <utility>

#include "firmware/generator.hpp"

// What a loop keeps in registers, what leaves it early, and which code can be shared.
namespace portweigh::firmware {

// Static variables used in a loop without calls are loaded before it and stored after it. Compilers of
// memory-operand cores store in the loop what not every turn changes.
void Generator::enter_loop(const Block& body, const Statement& loop) {
  OpenLoop open{.entry = now_,
                .counter = no_target,
                .is_fixed = false,
                .turns = 1,
                .is_unrolled = false,
                .constants = {},
                .stored = {},
                .promoted = {},
                .dirty = {}};
  if (loop.kind == StatementKind::count) open.counter = node(loop.target).index;
  std::set<std::size_t> read;
  std::set<std::size_t> written;
  collect(body, read, written);
  collect_node(loop.value, read);
  const auto certain = written_each_turn(body);
  const bool can_keep = !is_accumulator() && !contains_call(body);
  if (!can_keep) known_ = {};
  std::set<std::size_t> used = read;
  used.insert(written.begin(), written.end());
  for (const auto variable : used) {
    const auto& info = program_.variables[variable];
    if (info.storage != Storage::state) {
      if (written.contains(variable)) known_.variables.erase(variable);
      continue;
    }
    const bool is_outer = !loops_.empty() && loops_.back().promoted.contains(variable);
    const double count = words(info.type);
    if (!can_keep || (!is_outer && spare_registers_ < count)) {
      if (written.contains(variable)) known_.variables.erase(variable);
      continue;
    }
    open.promoted.insert(variable);
    if (is_memory() && written.contains(variable) && !certain.contains(variable))
      open.stored.insert(variable);
    if (is_outer) continue;
    spare_registers_ -= count;
    if (!known_.variables.contains(variable)) {
      need_base();
      emit(Operation::load_static, count);
    }
    known_.variables.insert(variable);
  }
  loops_.push_back(std::move(open));
}

// Counters that cannot wrap around; code for size keeps one that runs to a variable bound, as it is written.
bool Generator::is_bounded_counter(std::size_t variable) const {
  return std::any_of(loops_.begin(), loops_.end(), [&](const OpenLoop& loop) {
    return loop.counter == variable && (loop.is_fixed || !keeps_counter());
  });
}

bool Generator::keeps_counter() const {
  return is_for_size() && word_bits_ == 32;
}

void Generator::leave_loop() {
  const auto closed = std::move(loops_.back());
  loops_.pop_back();
  if (is_accumulator()) known_ = {};
  for (const auto variable : closed.promoted) {
    const double count = words(program_.variables[variable].type);
    const bool is_outer = !loops_.empty() && loops_.back().promoted.contains(variable);
    if (is_outer) {
      if (closed.dirty.contains(variable)) loops_.back().dirty.insert(variable);
      continue;
    }
    spare_registers_ += count;
    if (closed.dirty.contains(variable)) emit(Operation::store_static, count);
  }
}

void Generator::collect_node(NodeId id, std::set<std::size_t>& read) const {
  if (id == none) return;
  const Node& n = node(id);
  if (n.op == Operator::variable) read.insert(n.index);
  collect_node(n.choice, read);
  collect_node(n.left, read);
  collect_node(n.right, read);
}

void Generator::collect(const Block& body, std::set<std::size_t>& read,
                        std::set<std::size_t>& written) const {
  for (const auto id : body) {
    const auto& s = program_.statements[id];
    collect_node(s.value, read);
    for (const auto argument : s.arguments) collect_node(argument, read);
    if (s.target != none) {
      const Node& target = node(s.target);
      if (target.op == Operator::variable) written.insert(target.index);
      if (target.op == Operator::element) collect_node(target.left, read);
    }
    collect(s.first, read, written);
    collect(s.second, read, written);
    for (const auto& one : s.cases) collect(one.body, read, written);
  }
}

bool Generator::contains_call(const Block& body) const {
  return std::any_of(body.begin(), body.end(), [&](StatementId id) {
    const auto& s = program_.statements[id];
    return s.kind == StatementKind::call || contains_call(s.first) || contains_call(s.second) ||
           std::any_of(s.cases.begin(), s.cases.end(),
                       [&](const Case& one) { return contains_call(one.body); });
  });
}

// How often the loop around `body` is left by break or return.
Frequency Generator::exits_of(const Block& body, bool is_nested_loop) const {
  Frequency sum = Frequency::runs().scaled(0);
  for (const auto id : body) {
    const auto& s = program_.statements[id];
    const bool leaves = s.kind == StatementKind::leave || (s.kind == StatementKind::stop && !is_nested_loop);
    if (leaves) sum = sum + Frequency::statement(id);
    const bool is_inner = is_nested_loop || s.kind == StatementKind::loop ||
                          s.kind == StatementKind::loop_post || s.kind == StatementKind::count ||
                          s.kind == StatementKind::choose;
    sum = sum + exits_of(s.first, is_inner) + exits_of(s.second, is_inner);
    for (const auto& one : s.cases) sum = sum + exits_of(one.body, true);
  }
  return sum;
}

bool Generator::node_uses_counter(NodeId id, std::size_t counter) const {
  if (id == none) return false;
  const Node& n = node(id);
  if (is_variable(id, counter)) return true;
  if (n.op == Operator::element && is_variable(n.left, counter)) return false;
  return node_uses_counter(n.choice, counter) || node_uses_counter(n.left, counter) ||
         node_uses_counter(n.right, counter);
}

// A counter that only steps through arrays, or is not used at all, may as well count down to zero.
bool Generator::uses_counter_beyond_indexing(const Block& body, std::size_t counter) const {
  return std::any_of(body.begin(), body.end(), [&](StatementId id) {
    const auto& s = program_.statements[id];
    const auto in_block = [&](const Block& inner) { return uses_counter_beyond_indexing(inner, counter); };
    return node_uses_counter(s.value, counter) || node_uses_counter(s.target, counter) ||
           std::any_of(s.arguments.begin(), s.arguments.end(),
                       [&](NodeId a) { return node_uses_counter(a, counter); }) ||
           in_block(s.first) || in_block(s.second) ||
           std::any_of(s.cases.begin(), s.cases.end(), [&](const Case& one) { return in_block(one.body); });
  });
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
  const bool is_unrolled = unrolls(s);
  const double turns = is_unrolled ? node(s.value).value : 1;
  if (node(s.value).op != Operator::constant) value(s.value, all_words(node(s.value).type));
  if (!is_unrolled) emit(Operation::constant, words(counter.type));
  enter_loop(s.first, s);
  loops_.back().is_unrolled = is_unrolled;
  loops_.back().turns = turns;
  loops_.back().is_fixed = node(s.value).op == Operator::constant;
  if (is_unrolled) loops_.back().constants = stepped_each_turn(s);
  now_ = bodies;
  turns_ *= turns;
  const auto after = std::exchange(continuation_, next_continuation_++);
  block(s.first);
  continuation_ = after;
  turns_ /= turns;
  if (!is_unrolled) count_turn(s, bodies, entered);
  now_ = entered;
  leave_loop();
}

// The counter's step and the test whether another turn follows.
void Generator::count_turn(const Statement& s, const Frequency& bodies, const Frequency& entered) {
  const Node& counter = node(s.target);
  const double count = words(counter.type);
  const bool is_fixed = node(s.value).op == Operator::constant;
  const bool counts_down = !uses_counter_beyond_indexing(s.first, counter.index);
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
  const bool is_pointer = !is_fixed && counts_down && !is_accumulator() && !is_memory() && !keeps_counter();
  const bool is_narrow = bits_of(counter.type) < word_bits_ && !is_pointer;
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
}

}  // namespace portweigh::firmware

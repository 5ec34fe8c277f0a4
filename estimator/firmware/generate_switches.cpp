#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "firmware/generator.hpp"

// How a switch finds its case, and which code branches and cases share.
namespace portweigh::firmware {

bool Generator::is_same_value(NodeId a, NodeId b) const {
  if (a == none || b == none) return a == b;
  const Node& x = node(a);
  const Node& y = node(b);
  return x.op == y.op && x.type == y.type && x.value == y.value && x.index == y.index &&
         is_same_value(x.choice, y.choice) && is_same_value(x.left, y.left) &&
         is_same_value(x.right, y.right);
}

// The same instructions, perhaps on another constant held in a register.
bool Generator::is_same_code(const Statement& a, const Statement& b) const {
  if (a.kind != b.kind) return false;
  if (a.kind == StatementKind::leave && (a.value == none || b.value == none)) return a.value == b.value;
  if (a.kind == StatementKind::stop || a.kind == StatementKind::next) return true;
  if (a.kind != StatementKind::assign && a.kind != StatementKind::leave) return false;
  const bool are_constants = node(a.value).op == Operator::constant && node(b.value).op == Operator::constant;
  return is_same_value(a.target, b.target) && (are_constants || is_same_value(a.value, b.value));
}

// Statements at the end of `block` that stand at the end of one of `others` too.
std::size_t Generator::shared_end(const Block& block, const std::vector<const Block*>& others) const {
  std::size_t longest = 0;
  for (const auto* other : others) {
    std::size_t same = 0;
    while (same < block.size() && same < other->size() &&
           is_same_code(program_.statements[block[block.size() - 1 - same]],
                        program_.statements[(*other)[other->size() - 1 - same]])) {
      ++same;
    }
    longest = std::max(longest, same);
  }
  return longest;
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

// A support routine finds the table by its return address, which has to be saved.
void Generator::emit_dispatch() {
  if (!is_for_size()) {
    emit(Operation::dispatch, 1);
    return;
  }
  emit(Operation::dispatch_size, 1);
  const bool is_call = core_[Operation::dispatch_size].cycles > core_[Operation::dispatch].cycles;
  if (!is_call || saves_return_address_ || placement_.functions[function_].saved_registers > 0) return;
  saves_return_address_ = true;
  for (const auto operation : {Operation::frame, Operation::push, Operation::pop}) {
    emit(operation, 1, 1, entries_);
  }
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
    emit_dispatch();
    // Entries are addresses among the constants, or jumps.
    if (is_accumulator()) emit(Operation::jump, 0, static_cast<double>(s.cases.size()), reached);
  } else if (s.cases.size() > 4) {
    // A search by halves from five cases on: chosen where its log2(n) + 1 steps come near the (n + 1)/2
    // comparisons of a run. Chosen: half of its branches are taken, and three in ten cases need a second
    // branch.
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

}  // namespace portweigh::firmware

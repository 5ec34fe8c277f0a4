#include <algorithm>

#include "firmware/generator.hpp"

// What a loop keeps in registers, what leaves it early, and which code can be shared.
namespace portweigh::firmware {

// Static variables used in a loop without calls are loaded before it and stored after it.
void Generator::enter_loop(const Block& body, const Statement& loop) {
  OpenLoop open{.entry = now_, .counter = no_target, .promoted = {}, .dirty = {}};
  if (loop.kind == StatementKind::count) open.counter = node(loop.target).index;
  std::set<std::size_t> read;
  std::set<std::size_t> written;
  collect(body, read, written);
  collect_node(loop.value, read);
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

bool Generator::is_loop_counter(std::size_t variable) const {
  return std::any_of(loops_.begin(), loops_.end(),
                     [&](const OpenLoop& loop) { return loop.counter == variable; });
}

void Generator::leave_loop() {
  const auto closed = std::move(loops_.back());
  loops_.pop_back();
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

}  // namespace portweigh::firmware

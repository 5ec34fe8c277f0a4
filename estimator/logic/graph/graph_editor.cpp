#include "logic/graph/graph_editor.hpp"

#include <algorithm>
#include <limits>

namespace portweigh::logic {

GraphEditor::GraphEditor(const Graph& graph) : graph_(graph), level_(levels(graph)) {
  references_.assign(graph.size(), 0);
  for (std::uint32_t node = 0; node < graph.size(); ++node) replacement_.emplace_back(node, false);
  for (const Literal root : graph.roots()) add_references(root.node(), 1);
  for (const Graph::Box& box : graph.boxes()) {
    for (const Literal operand : box.operands()) add_references(operand.node(), 1);
  }
  compute_required();
}

void GraphEditor::compute_required() {
  std::uint32_t deepest = 0;
  for (const Literal root : graph_.roots()) deepest = std::max(deepest, level_[root.node()]);
  required_.assign(graph_.size(), deepest);
  for (auto node = static_cast<std::uint32_t>(graph_.size()); node-- > 1;) {
    graph_.require_operands(node, required_);
  }
}

Literal GraphEditor::resolve(Literal literal) const {
  while (is_replaced(literal.node())) {
    const Literal next = replacement_[literal.node()];
    // Path halving keeps long chains of replacements short.
    const Literal after = replacement_[next.node()].complement_if(next.is_complemented());
    replacement_[literal.node()] = after;
    literal = after.complement_if(literal.is_complemented());
  }
  return literal;
}

void GraphEditor::grow_to_graph() {
  for (auto node = static_cast<std::uint32_t>(references_.size()); node < graph_.size(); ++node) {
    references_.push_back(0);
    replacement_.emplace_back(node, false);
    level_.push_back(1 + std::max(level_[fanin0(node).node()], level_[fanin1(node).node()]));
    required_.push_back(std::numeric_limits<std::uint32_t>::max() / 2);
  }
}

int GraphEditor::add_references(std::uint32_t node, std::uint32_t count) {
  references_[node] += count;
  if (references_[node] != count) return 0;
  return spread(node, [this](std::uint32_t fanin) { return references_[fanin]++ == 0; });
}

int GraphEditor::remove_references(std::uint32_t node, std::uint32_t count) {
  references_[node] -= count;
  if (references_[node] != 0 || count == 0) return 0;
  return spread(node, [this](std::uint32_t fanin) { return --references_[fanin] == 0; });
}

template <class Change>
int GraphEditor::spread(std::uint32_t first, Change change) {
  if (!graph_.is_gate(first)) return 0;
  int reached = 0;
  stack_.assign(1, first);
  while (!stack_.empty()) {
    const std::uint32_t node = stack_.back();
    stack_.pop_back();
    ++reached;
    for (const Literal fanin : {fanin0(node), fanin1(node)}) {
      if (change(fanin.node()) && graph_.is_gate(fanin.node())) stack_.push_back(fanin.node());
    }
  }
  return reached;
}

void GraphEditor::open(std::uint32_t node, std::span<const std::uint32_t> leaves) {
  guarded_.assign(leaves.begin(), leaves.end());
  for (const std::uint32_t leaf : guarded_) ++references_[leaf];
  opened_ = node;
  opened_references_ = references_[node];
  opened_size_ = remove_references(node, opened_references_);
}

GraphEditor::Trial GraphEditor::attempt(const Build& build) {
  const std::size_t size = graph_.size();
  const Literal built = build(graph_);
  grow_to_graph();
  const Literal candidate = resolve(built);
  Trial trial;
  const int added = add_references(candidate.node(), 1);
  trial.is_valid = references_[opened_] == 0;
  trial.gain = opened_size_ - added;
  trial.level = level_[candidate.node()];
  remove_references(candidate.node(), 1);
  graph_.truncate(size);
  references_.resize(size);
  level_.resize(size);
  required_.resize(size);
  replacement_.resize(size);
  return trial;
}

void GraphEditor::close() {
  add_references(opened_, opened_references_);
  for (const std::uint32_t leaf : guarded_) --references_[leaf];
}

void GraphEditor::replace(std::uint32_t node, const Build& build) {
  const Literal built = build(graph_);
  grow_to_graph();
  replace(node, resolve(built));
}

void GraphEditor::replace(std::uint32_t node, Literal by) {
  const std::uint32_t count = references_[node];
  required_[by.node()] = std::min(required_[by.node()], required_[node]);
  add_references(by.node(), count);
  remove_references(node, count);
  replacement_[node] = by;
  // Found by hashing, it could bring a structure that reads the visited node into that node's own cone.
  graph_.retire(node);
}

std::uint32_t GraphEditor::refresh(std::uint32_t node) {
  const Literal a = fanin0(node);
  const Literal b = fanin1(node);
  level_[node] = 1 + std::max(level_[a.node()], level_[b.node()]);
  if (a == graph_.fanin0(node) && b == graph_.fanin1(node)) return node;
  const bool is_xor = graph_.is_xor(node);
  const std::size_t size = graph_.size();
  const Literal made = is_xor ? graph_.make_xor(a, b) : graph_.make_and(a, b);
  grow_to_graph();
  const Literal fresh = resolve(made);
  if (fresh.node() != node) replace(node, fresh);
  return fresh.node() >= size ? fresh.node() : Graph::none;
}

Graph GraphEditor::finish() const {
  std::vector<Literal> resolved;
  resolved.reserve(graph_.size());
  for (std::uint32_t node = 0; node < graph_.size(); ++node)
    resolved.push_back(resolve(Literal(node, false)));
  return cleaned(graph_, resolved);
}

}  // namespace portweigh::logic

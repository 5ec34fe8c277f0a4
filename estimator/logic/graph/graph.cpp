#include "logic/graph/graph.hpp"

#include <algorithm>
#include <array>

namespace portweigh::logic {

Literal Graph::add_source() {
  sources_.push_back(AndInverterGraph::add_source(none));
  return {sources_.back(), false};
}

const Graph::Box& Graph::add_box(Literal a, Literal b, Literal carry_in, bool continues_chain) {
  const auto box = static_cast<std::uint32_t>(boxes_.size());
  const std::uint32_t sum = AndInverterGraph::add_source(box);
  boxes_.push_back({a, b, carry_in, sum, AndInverterGraph::add_source(box), continues_chain});
  return boxes_.back();
}

std::uint32_t Graph::level(std::uint32_t node, const std::vector<std::uint32_t>& levels) const {
  if (is_gate(node)) return 1 + std::max(levels[fanin0(node).node()], levels[fanin1(node).node()]);
  if (box_of(node) == none) return 0;
  const Box& box = boxes_[box_of(node)];
  const std::uint32_t operands = 1 + std::max(levels[box.a.node()], levels[box.b.node()]);
  return std::max(operands, levels[box.carry_in.node()] + (box.continues_chain ? 0U : 1U));
}

void Graph::require_operands(std::uint32_t node, std::vector<std::uint32_t>& required) const {
  const auto limit = [&required](Literal literal, std::uint32_t level) {
    required[literal.node()] = std::min(required[literal.node()], level);
  };
  const std::uint32_t below = required[node] - std::min(required[node], 1U);
  if (is_gate(node)) {
    limit(fanin0(node), below);
    limit(fanin1(node), below);
  } else if (box_of(node) != none) {
    const Box& box = boxes_[box_of(node)];
    limit(box.a, below);
    limit(box.b, below);
    limit(box.carry_in, box.continues_chain ? required[node] : below);
  }
}

namespace {

// A graph whose nodes are read through replacements.
class ReplacedGraph {
 public:
  ReplacedGraph(const Graph& graph, const std::vector<Literal>& replacement)
      : graph_(graph), replacement_(replacement) {}

  Literal target(Literal literal) const { return literal.in(replacement_); }

  // Nodes that a node reads; 0 stands for none.
  std::array<std::uint32_t, 3> operands(std::uint32_t node) const {
    if (graph_.is_gate(node)) {
      return {target(graph_.fanin0(node)).node(), target(graph_.fanin1(node)).node(), 0};
    }
    if (graph_.box_of(node) == Graph::none) return {};
    const Graph::Box& box = graph_.boxes()[graph_.box_of(node)];
    return {target(box.a).node(), target(box.b).node(), target(box.carry_in).node()};
  }

  std::vector<std::uint32_t> order() const {
    return is_index_order_topological() ? order_by_index() : order_by_search();
  }

 private:
  bool is_index_order_topological() const {
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      for (const std::uint32_t read : operands(node)) {
        if (read >= node) return false;
      }
    }
    return true;
  }

  std::vector<std::uint32_t> order_by_index() const {
    std::vector<bool> is_needed(graph_.size(), false);
    for (const Literal root : graph_.roots()) is_needed[target(root).node()] = true;
    std::vector<std::uint32_t> order;
    for (auto node = static_cast<std::uint32_t>(graph_.size()); node-- > 1;) {
      if (!is_needed[node]) continue;
      order.push_back(node);
      for (const std::uint32_t read : operands(node)) is_needed[read] = true;
    }
    std::reverse(order.begin(), order.end());
    return order;
  }

  std::vector<std::uint32_t> order_by_search() const {
    std::vector<bool> is_done(graph_.size(), false);
    is_done[0] = true;
    std::vector<std::uint32_t> order;
    std::vector<std::uint32_t> stack;
    for (const Literal root : graph_.roots()) {
      stack.push_back(target(root).node());
      while (!stack.empty()) {
        const std::uint32_t node = stack.back();
        if (!is_done[node]) {
          const std::size_t depth = stack.size();
          for (const std::uint32_t read : operands(node)) {
            if (!is_done[read]) stack.push_back(read);
          }
          if (stack.size() != depth) continue;
          order.push_back(node);
          is_done[node] = true;
        }
        stack.pop_back();
      }
    }
    return order;
  }

  const Graph& graph_;
  const std::vector<Literal>& replacement_;
};

}  // namespace

Literal make_and_or_xor(Graph& graph, Literal a, Literal b) {
  const auto is_complemented_and = [&graph](Literal literal) {
    return literal.is_complemented() && graph.is_and(literal.node());
  };
  if (is_complemented_and(a) && is_complemented_and(b)) {
    const Literal p = graph.fanin0(a.node());
    const Literal q = graph.fanin1(a.node());
    if (p == !graph.fanin0(b.node()) && q == !graph.fanin1(b.node())) return graph.make_xor(p, q);
  }
  return graph.make_and(a, b);
}

Graph cleaned(const Graph& graph) {
  std::vector<Literal> itself;
  itself.reserve(graph.size());
  for (std::uint32_t node = 0; node < graph.size(); ++node) itself.emplace_back(node, false);
  return cleaned(graph, itself);
}

Graph cleaned(const Graph& graph, const std::vector<Literal>& replacement) {
  const ReplacedGraph replaced(graph, replacement);
  const std::vector<std::uint32_t> order = replaced.order();
  Graph result;
  result.reserve(order.size() + graph.sources().size());
  std::vector<Literal> image(graph.size(), constant_false);
  for (const std::uint32_t source : graph.sources()) image[source] = result.add_source();
  const auto mapped = [&](Literal literal) { return replaced.target(literal).in(image); };
  std::vector<bool> has_box(graph.boxes().size(), false);
  bool has_recovered = false;
  for (const std::uint32_t node : order) {
    if (graph.is_gate(node)) {
      const Literal a = mapped(graph.fanin0(node));
      const Literal b = mapped(graph.fanin1(node));
      image[node] = graph.is_xor(node) ? result.make_xor(a, b) : make_and_or_xor(result, a, b);
      has_recovered = has_recovered || (!graph.is_xor(node) && result.is_xor(image[node].node()));
      continue;
    }
    const std::uint32_t box = graph.box_of(node);
    if (box == Graph::none || has_box[box]) continue;
    has_box[box] = true;
    result.copy_box(graph.boxes()[box], mapped, image);
  }
  for (const Literal root : graph.roots()) result.add_root(mapped(root));
  // The ANDs of a recovered XOR may now be unread.
  return has_recovered ? cleaned(result) : result;
}

std::vector<std::uint32_t> levels(const Graph& graph) {
  std::vector<std::uint32_t> level(graph.size(), 0);
  for (std::uint32_t node = 1; node < graph.size(); ++node) level[node] = graph.level(node, level);
  return level;
}

}  // namespace portweigh::logic

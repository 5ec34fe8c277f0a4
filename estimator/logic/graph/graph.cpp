#include "logic/graph/graph.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace portweigh::logic {

Graph::Graph() : gates_(1), table_(64, 0) {}

void Graph::reserve(std::size_t nodes) {
  gates_.reserve(nodes);
  while (table_.size() < 2 * nodes) grow_table();
}

Literal Graph::add_source() {
  const auto node = static_cast<std::uint32_t>(gates_.size());
  gates_.emplace_back();
  sources_.push_back(node);
  return {node, false};
}

const Graph::Box& Graph::add_box(Literal a, Literal b, Literal carry_in, bool continues_chain) {
  const auto node = static_cast<std::uint32_t>(gates_.size());
  gates_.emplace_back();
  gates_.emplace_back();
  box_of_.resize(gates_.size(), no_box);
  box_of_[node] = box_of_[node + 1] = static_cast<std::uint32_t>(boxes_.size());
  boxes_.push_back({a, b, carry_in, node, node + 1, continues_chain});
  return boxes_.back();
}

std::size_t Graph::slot_of(std::uint32_t fanin0, std::uint32_t fanin1) const {
  const std::uint64_t key = (std::uint64_t{fanin0} << 32U | fanin1) * 0x9E3779B97F4A7C15U;
  std::size_t slot = (key >> 24U) & (table_.size() - 1);
  while (table_[slot] != 0) {
    const Gate& gate = gates_[table_[slot]];
    if (gate.fanin0 == fanin0 && gate.fanin1 == fanin1) break;
    slot = (slot + 1) & (table_.size() - 1);
  }
  return slot;
}

void Graph::grow_table() {
  table_.assign(table_.size() * 2, 0);
  for (std::uint32_t node = 1; node < gates_.size(); ++node) {
    if (is_gate(node)) table_[slot_of(gates_[node].fanin0, gates_[node].fanin1)] = node;
  }
}

std::uint32_t Graph::find_or_add(std::uint32_t fanin0, std::uint32_t fanin1) {
  const std::size_t slot = slot_of(fanin0, fanin1);
  if (table_[slot] != 0) return table_[slot];
  const auto node = static_cast<std::uint32_t>(gates_.size());
  gates_.push_back({fanin0, fanin1});
  table_[slot] = node;
  if (gates_.size() * 2 > table_.size()) grow_table();
  return node;
}

// The latest gates are at the ends of their probe sequences, so their slots can simply be emptied.
void Graph::truncate(std::size_t size) {
  while (gates_.size() > size) {
    table_[slot_of(gates_.back().fanin0, gates_.back().fanin1)] = 0;
    gates_.pop_back();
  }
}

Literal Graph::make_and(Literal a, Literal b) {
  if (b < a) std::swap(a, b);
  if (a.node() == 0) return a == constant_true ? b : constant_false;
  if (a == b) return a;
  if (a == !b) return constant_false;
  return {find_or_add(a.raw(), b.raw()), false};
}

Literal Graph::make_xor(Literal a, Literal b) {
  const bool complemented = a.is_complemented() != b.is_complemented();
  a = Literal(a.node(), false);
  b = Literal(b.node(), false);
  if (b < a) std::swap(a, b);
  if (a == b) return constant_false.complement_if(complemented);
  if (a.node() == 0) return b.complement_if(complemented);
  return Literal(find_or_add(b.raw(), a.raw()), false).complement_if(complemented);
}

Literal Graph::make_mux(Literal select, Literal when_true, Literal when_false) {
  if (when_true == when_false) return when_true;
  if (when_true == !when_false) return make_xor(select, when_false);
  if (select == when_true) return make_or(select, when_false);
  if (select == !when_true) return make_and(!select, when_false);
  if (select == when_false) return make_and(select, when_true);
  if (select == !when_false) return make_or(!select, when_true);
  return make_or(make_and(select, when_true), make_and(!select, when_false));
}

namespace {

// A graph whose nodes are read through replacements.
class ReplacedGraph {
 public:
  ReplacedGraph(const Graph& graph, const std::vector<Literal>& replacement)
      : graph_(graph), replacement_(replacement) {}

  Literal target(Literal literal) const {
    return replacement_[literal.node()].complement_if(literal.is_complemented());
  }

  // Nodes that a node reads; a source reads none.
  struct Operands {
    std::array<std::uint32_t, 3> nodes{};
    unsigned count = 0;
  };
  Operands operands(std::uint32_t node) const {
    if (graph_.is_gate(node))
      return {{target(graph_.fanin0(node)).node(), target(graph_.fanin1(node)).node()}, 2};
    const std::uint32_t box = graph_.box_of(node);
    if (box == Graph::no_box) return {};
    const Graph::Box& bit = graph_.boxes()[box];
    return {{target(bit.a).node(), target(bit.b).node(), target(bit.carry_in).node()}, 3};
  }

  std::vector<std::uint32_t> order() const {
    return is_index_order_topological() ? order_by_index() : order_by_search();
  }

 private:
  bool is_index_order_topological() const {
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      const Operands read = operands(node);
      for (unsigned i = 0; i < read.count; ++i) {
        if (read.nodes[i] >= node) return false;
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
      const Operands read = operands(node);
      for (unsigned i = 0; i < read.count; ++i) is_needed[read.nodes[i]] = true;
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
        const std::size_t depth = stack.size();
        const Operands read = operands(node);
        for (unsigned i = 0; i < read.count && !is_done[node]; ++i) {
          if (!is_done[read.nodes[i]]) stack.push_back(read.nodes[i]);
        }
        if (stack.size() != depth) continue;
        if (!is_done[node]) order.push_back(node);
        is_done[node] = true;
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
    return literal.is_complemented() && graph.is_gate(literal.node()) && !graph.is_xor(literal.node());
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
  const auto mapped = [&](Literal literal) {
    const Literal target = replaced.target(literal);
    return image[target.node()].complement_if(target.is_complemented());
  };
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
    if (box == Graph::no_box || has_box[box]) continue;
    has_box[box] = true;
    const Graph::Box& bit = graph.boxes()[box];
    const Graph::Box& added =
        result.add_box(mapped(bit.a), mapped(bit.b), mapped(bit.carry_in), bit.continues_chain);
    image[bit.sum] = Literal(added.sum, false);
    image[bit.carry] = Literal(added.carry, false);
  }
  for (const Literal root : graph.roots()) result.add_root(mapped(root));
  // The ANDs of a recovered XOR may now be unread.
  return has_recovered ? cleaned(result) : result;
}

std::vector<std::uint32_t> levels(const Graph& graph) {
  std::vector<std::uint32_t> level(graph.size(), 0);
  for (std::uint32_t node = 1; node < graph.size(); ++node) {
    if (graph.is_gate(node)) {
      level[node] = 1 + std::max(level[graph.fanin0(node).node()], level[graph.fanin1(node).node()]);
    } else if (graph.box_of(node) != Graph::no_box) {
      const Graph::Box& bit = graph.boxes()[graph.box_of(node)];
      const std::uint32_t operands = 1 + std::max(level[bit.a.node()], level[bit.b.node()]);
      level[node] = std::max(operands, level[bit.carry_in.node()] + (bit.continues_chain ? 0U : 1U));
    }
  }
  return level;
}

}  // namespace portweigh::logic

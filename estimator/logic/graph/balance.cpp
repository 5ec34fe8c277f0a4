#include <algorithm>

#include "logic/graph/restructure.hpp"

namespace portweigh::logic {
namespace {

class Balancer {
 public:
  Balancer(const Graph& graph, unsigned arity)
      : graph_(graph), arity_(arity), fanouts_(graph.size(), 0), image_(graph.size(), constant_false) {
    for (std::uint32_t node = 1; node < graph.size(); ++node) {
      if (!graph.is_gate(node)) continue;
      ++fanouts_[graph.fanin0(node).node()];
      ++fanouts_[graph.fanin1(node).node()];
    }
    for (const Literal root : graph.roots()) ++fanouts_[root.node()];
    for (const Graph::Box& box : graph.boxes()) {
      for (const Literal operand : {box.a, box.b, box.carry_in}) ++fanouts_[operand.node()];
    }
  }

  Graph balance() {
    result_.reserve(graph_.size());
    for (const std::uint32_t source : graph_.sources()) image_[source] = result_.add_source();
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      if (graph_.is_gate(node)) {
        // Nodes inside a tree are built with it; only what others read is built for itself.
        if (!is_inside_tree(node)) build_tree(node);
      } else if (graph_.box_of(node) != Graph::no_box && graph_.boxes()[graph_.box_of(node)].sum == node) {
        const Graph::Box& bit = graph_.boxes()[graph_.box_of(node)];
        const Graph::Box& added =
            result_.add_box(mapped(bit.a), mapped(bit.b), mapped(bit.carry_in), bit.continues_chain);
        image_[bit.sum] = Literal(added.sum, false);
        image_[bit.carry] = Literal(added.carry, false);
      }
    }
    for (const Literal root : graph_.roots()) result_.add_root(mapped(root));
    return cleaned(result_);
  }

 private:
  Literal mapped(Literal literal) const {
    return image_[literal.node()].complement_if(literal.is_complemented());
  }

  // Set when the parent's tree swallows the node.
  bool is_inside_tree(std::uint32_t node) {
    mark_inside();
    return is_inside_[node];
  }

  bool can_enter(std::uint32_t parent, Literal operand) const {
    const std::uint32_t node = operand.node();
    if (!graph_.is_gate(node) || fanouts_[node] != 1) return false;
    if (graph_.is_xor(parent)) return graph_.is_xor(node);
    return !graph_.is_xor(node) && !operand.is_complemented();
  }

  void mark_inside() {
    if (!is_inside_.empty()) return;
    is_inside_.assign(graph_.size(), false);
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      if (!graph_.is_gate(node)) continue;
      for (const Literal operand : {graph_.fanin0(node), graph_.fanin1(node)}) {
        if (can_enter(node, operand)) is_inside_[operand.node()] = true;
      }
    }
  }

  std::uint32_t level(Literal literal) {
    for (auto node = static_cast<std::uint32_t>(levels_.size()); node < result_.size(); ++node) {
      std::uint32_t value = 0;
      if (result_.is_gate(node)) {
        value = 1 + std::max(levels_[result_.fanin0(node).node()], levels_[result_.fanin1(node).node()]);
      } else if (result_.box_of(node) != Graph::no_box) {
        const Graph::Box& bit = result_.boxes()[result_.box_of(node)];
        value = std::max({1 + levels_[bit.a.node()], 1 + levels_[bit.b.node()],
                          levels_[bit.carry_in.node()] + (bit.continues_chain ? 0U : 1U)});
      }
      levels_.push_back(value);
    }
    return levels_[literal.node()];
  }

  void build_tree(std::uint32_t root) {
    const bool is_xor = graph_.is_xor(root);
    std::vector<Literal> operands;
    std::vector<std::uint32_t> stack{root};
    bool is_complemented = false;
    while (!stack.empty()) {
      const std::uint32_t node = stack.back();
      stack.pop_back();
      for (const Literal operand : {graph_.fanin0(node), graph_.fanin1(node)}) {
        if (can_enter(node, operand)) {
          is_complemented = is_complemented != operand.is_complemented();
          stack.push_back(operand.node());
        } else {
          operands.push_back(mapped(operand));
        }
      }
    }
    const bool flips = is_xor && is_complemented;
    image_[root] = (is_xor ? xor_tree(operands) : and_tree(operands)).complement_if(flips);
  }

  template <class Combine>
  Literal tree(std::vector<Literal> operands, Combine combine) {
    const auto is_later = [this](Literal a, Literal b) {
      return level(a) != level(b) ? level(a) > level(b) : a > b;
    };
    std::sort(operands.begin(), operands.end(), is_later);
    if (arity_ > 2) return grouped_tree(std::move(operands), combine, is_later);
    while (operands.size() > 1) {
      const Literal combined = take_pair(operands, combine);
      operands.insert(std::upper_bound(operands.begin(), operands.end(), combined, is_later), combined);
    }
    return operands.front();
  }

  template <class Combine>
  Literal take_pair(std::vector<Literal>& operands, Combine combine) {
    const Literal first = operands.back();
    operands.pop_back();
    const std::size_t partner = choose_partner(operands, first, combine);
    const Literal second = operands[partner];
    operands.erase(operands.begin() + static_cast<std::ptrdiff_t>(partner));
    return combine(first, second);
  }

  // Huffman's tree of `arity_` operands at a time: the first group is the one that need not be full.
  template <class Combine, class Order>
  Literal grouped_tree(std::vector<Literal> operands, Combine combine, Order is_later) {
    while (operands.size() > 1) {
      const std::size_t surplus = (operands.size() - 1) % (arity_ - 1);
      const std::size_t count = std::min(operands.size(), surplus == 0 ? arity_ : surplus + 1);
      std::vector<Literal> group;
      for (std::size_t i = 0; i < count; ++i) {
        group.push_back(operands.back());
        operands.pop_back();
      }
      std::reverse(group.begin(), group.end());
      while (group.size() > 1) {
        const Literal combined = take_pair(group, combine);
        group.insert(std::upper_bound(group.begin(), group.end(), combined, is_later), combined);
      }
      operands.insert(std::upper_bound(operands.begin(), operands.end(), group.front(), is_later),
                      group.front());
    }
    return operands.front();
  }

  // Among the operands as early as the earliest, one whose gate with `first` exists already.
  template <class Combine>
  std::size_t choose_partner(const std::vector<Literal>& operands, Literal first, Combine combine) {
    const std::size_t last = operands.size() - 1;
    const std::uint32_t earliest = level(operands[last]);
    // Bounds the time for very wide gates; 8 and 128 give equal LUTs on the circuits of rewrite.cpp.
    constexpr std::size_t most_tried = 8;
    for (std::size_t tried = 0; tried < most_tried && tried <= last; ++tried) {
      const std::size_t i = last - tried;
      if (level(operands[i]) != earliest) break;
      const std::size_t size = result_.size();
      combine(first, operands[i]);
      const bool exists = result_.size() == size;
      result_.truncate(size);
      if (exists) return i;
    }
    return last;
  }

  Literal and_tree(const std::vector<Literal>& operands) {
    return tree(operands, [this](Literal a, Literal b) { return result_.make_and(a, b); });
  }
  Literal xor_tree(const std::vector<Literal>& operands) {
    return tree(operands, [this](Literal a, Literal b) { return result_.make_xor(a, b); });
  }

  const Graph& graph_;
  std::size_t arity_;
  std::vector<std::uint32_t> fanouts_;
  std::vector<Literal> image_;
  std::vector<bool> is_inside_;
  std::vector<std::uint32_t> levels_;
  Graph result_;
};

}  // namespace

Graph balanced(const Graph& graph, unsigned arity) {
  return Balancer(graph, arity).balance();
}

}  // namespace portweigh::logic

#include <algorithm>
#include <utility>

#include "logic/graph/restructure.hpp"

namespace portweigh::logic {
namespace {

class Balancer {
 public:
  Balancer(const Graph& graph, unsigned arity)
      : graph_(graph),
        arity_(arity),
        fanouts_(graph.size(), 0),
        is_inside_(graph.size(), false),
        image_(graph.size(), constant_false) {
    for (std::uint32_t node = 1; node < graph.size(); ++node) {
      if (!graph.is_gate(node)) continue;
      ++fanouts_[graph.fanin0(node).node()];
      ++fanouts_[graph.fanin1(node).node()];
    }
    for (const Literal root : graph.roots()) ++fanouts_[root.node()];
    for (const Graph::Box& box : graph.boxes()) {
      for (const Literal operand : box.operands()) ++fanouts_[operand.node()];
    }
    for (std::uint32_t node = 1; node < graph.size(); ++node) {
      if (!graph.is_gate(node)) continue;
      for (const Literal operand : {graph.fanin0(node), graph.fanin1(node)}) {
        if (can_enter(node, operand)) is_inside_[operand.node()] = true;
      }
    }
  }

  Graph balance() {
    result_.reserve(graph_.size());
    const auto mapped = [this](Literal literal) { return literal.in(image_); };
    for (const std::uint32_t source : graph_.sources()) image_[source] = result_.add_source();
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      if (graph_.is_gate(node)) {
        // Nodes inside a tree are built with it; only what others read is built for itself.
        if (!is_inside_[node]) build_tree(node);
      } else if (graph_.box_of(node) != Graph::none && graph_.boxes()[graph_.box_of(node)].sum == node) {
        result_.copy_box(graph_.boxes()[graph_.box_of(node)], mapped, image_);
      }
    }
    for (const Literal root : graph_.roots()) result_.add_root(mapped(root));
    return cleaned(result_);
  }

 private:
  // Whether the parent's tree swallows the operand.
  bool can_enter(std::uint32_t parent, Literal operand) const {
    const std::uint32_t node = operand.node();
    if (!graph_.is_gate(node) || fanouts_[node] != 1) return false;
    if (graph_.is_xor(parent)) return graph_.is_xor(node);
    return !graph_.is_xor(node) && !operand.is_complemented();
  }

  std::uint32_t level(Literal literal) {
    for (auto node = static_cast<std::uint32_t>(levels_.size()); node < result_.size(); ++node) {
      levels_.push_back(result_.level(node, levels_));
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
          operands.push_back(operand.in(image_));
        }
      }
    }
    const auto combine = [this, is_xor](Literal a, Literal b) {
      return is_xor ? result_.make_xor(a, b) : result_.make_and(a, b);
    };
    image_[root] = tree(std::move(operands), combine).complement_if(is_xor && is_complemented);
  }

  // Huffman's tree of `arity_` operands at a time: the first group is the one that need not be full. Pairs are
  // chosen among all operands at once.
  template <class Combine>
  Literal tree(std::vector<Literal> operands, Combine combine) {
    const auto is_later = [this](Literal a, Literal b) {
      return level(a) != level(b) ? level(a) > level(b) : a > b;
    };
    const auto insert = [&is_later](std::vector<Literal>& list, Literal added) {
      list.insert(std::upper_bound(list.begin(), list.end(), added, is_later), added);
    };
    std::sort(operands.begin(), operands.end(), is_later);
    while (operands.size() > 1) {
      const std::size_t surplus = (operands.size() - 1) % (arity_ - 1);
      const std::size_t full = surplus == 0 ? arity_ : surplus + 1;
      const std::size_t count = arity_ == 2 ? operands.size() : std::min(operands.size(), full);
      const auto first = operands.end() - static_cast<std::ptrdiff_t>(count);
      std::vector<Literal> group(first, operands.end());
      operands.erase(first, operands.end());
      while (group.size() > 1) insert(group, take_pair(group, combine));
      insert(operands, group.front());
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

  const Graph& graph_;
  std::size_t arity_;
  std::vector<std::uint32_t> fanouts_;
  std::vector<bool> is_inside_;  // nodes that their reader's tree swallows
  std::vector<Literal> image_;
  std::vector<std::uint32_t> levels_;
  Graph result_;
};

}  // namespace

Graph balanced(const Graph& graph, unsigned arity) {
  return Balancer(graph, arity).balance();
}

}  // namespace portweigh::logic

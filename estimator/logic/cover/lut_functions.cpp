#include "logic/cover/lut_functions.hpp"

namespace portweigh::logic {
namespace {

// Values of one cone at a time; a stamp tells which values belong to the present cone.
class ConeEvaluator {
 public:
  explicit ConeEvaluator(const Graph& graph)
      : graph_(graph), place_(graph.size(), 0), stamp_(graph.size(), 0) {}

  void start() {
    ++present_;
    values_.clear();
    set(0, TruthTable::constant(false));
  }

  void set(std::uint32_t node, const TruthTable& value) {
    stamp_[node] = present_;
    place_[node] = static_cast<std::uint32_t>(values_.size());
    values_.push_back(value);
  }

  TruthTable value(std::uint32_t root) {
    stack_.assign(1, root);
    while (!stack_.empty()) {
      const std::uint32_t node = stack_.back();
      if (stamp_[node] == present_) {
        stack_.pop_back();
        continue;
      }
      const Literal a = graph_.fanin0(node);
      const Literal b = graph_.fanin1(node);
      const bool is_ready = stamp_[a.node()] == present_ && stamp_[b.node()] == present_;
      if (is_ready) {
        const TruthTable x = values_[place_[a.node()]].complement_if(a.is_complemented());
        const TruthTable y = values_[place_[b.node()]].complement_if(b.is_complemented());
        set(node, graph_.is_xor(node) ? x ^ y : x & y);
        stack_.pop_back();
        continue;
      }
      if (stamp_[a.node()] != present_) stack_.push_back(a.node());
      if (stamp_[b.node()] != present_) stack_.push_back(b.node());
    }
    return values_[place_[root]];
  }

 private:
  const Graph& graph_;
  std::vector<std::uint32_t> place_;
  std::vector<std::uint32_t> stamp_;
  std::vector<TruthTable> values_;
  std::vector<std::uint32_t> stack_;
  std::uint32_t present_ = 0;
};

}  // namespace

std::vector<TruthTable> lut_functions(const Graph& graph, const Covering& covering) {
  ConeEvaluator evaluator(graph);
  std::vector<TruthTable> functions;
  functions.reserve(covering.nodes.size());
  for (std::size_t i = 0; i < covering.nodes.size(); ++i) {
    evaluator.start();
    for (std::uint32_t leaf = covering.first_leaf[i]; leaf < covering.first_leaf[i + 1]; ++leaf) {
      evaluator.set(covering.leaves[leaf], TruthTable::input(leaf - covering.first_leaf[i]));
    }
    functions.push_back(evaluator.value(covering.nodes[i]));
  }
  return functions;
}

}  // namespace portweigh::logic

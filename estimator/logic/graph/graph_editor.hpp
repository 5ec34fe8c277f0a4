// Local changes of a subject graph: a node is replaced by another structure of the same function.
//
// Replaced nodes stay in the graph and are looked through by resolve(); new nodes are appended, so index
// order is no longer topological until cleaned(). A node is alive while something alive references it.
// Reference counts follow every change, so that the gain of a candidate is exact:
//   gain = nodes that die with the node - nodes that come alive with the candidate
// Passes visit the original gates in index order, so everything below the visited node is final.
//
//   editor.open(node, leaves);             // take the node's cone out
//   Trial t = editor.attempt(build);       // build a candidate on the leaves, measure, take it back
//   editor.close();                        // put the cone back
//   if (t.gain > 0) editor.replace(node, build);
//
// Tested by tests/logic/graph/restructure_test.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "logic/graph/graph.hpp"

namespace portweigh::logic {

class GraphEditor {
 public:
  using Build = std::function<Literal(Graph&)>;
  struct Trial {
    int gain = 0;
    std::uint32_t level = 0;
    bool is_valid = false;  // false where the candidate contains the node itself
  };

  explicit GraphEditor(const Graph& graph);

  const Graph& graph() const { return graph_; }
  Graph finish() const;

  Literal resolve(Literal literal) const;
  Literal fanin0(std::uint32_t node) const { return resolve(graph_.fanin0(node)); }
  Literal fanin1(std::uint32_t node) const { return resolve(graph_.fanin1(node)); }
  bool is_gate(std::uint32_t node) const { return graph_.is_gate(node); }
  bool is_alive(std::uint32_t node) const { return references_[node] > 0 && !is_replaced(node); }
  bool is_replaced(std::uint32_t node) const { return replacement_[node].node() != node; }
  std::uint32_t references(std::uint32_t node) const { return references_[node]; }
  std::uint32_t level(std::uint32_t node) const { return level_[node]; }
  // Latest level at which the node doesn't make the whole graph deeper; of original nodes only.
  std::uint32_t required(std::uint32_t node) const { return required_[node]; }

  // Brings the node's operands up to date. Returns the node that now stands for it, or none if it has
  // become a constant, a source or a node visited already.
  std::uint32_t refresh(std::uint32_t node);

  void open(std::uint32_t node, std::span<const std::uint32_t> leaves);
  int opened_size() const { return opened_size_; }
  Trial attempt(const Build& build);
  void close();
  void replace(std::uint32_t node, const Build& build);
  void replace(std::uint32_t node, Literal by);

 private:
  void grow_to_graph();
  // The gates that come alive with the node, or die with it.
  int add_references(std::uint32_t node, std::uint32_t count);
  int remove_references(std::uint32_t node, std::uint32_t count);
  // Gates reached from a gate: change(fan-in) tells of each of their fan-ins whether to go on there.
  template <class Change>
  int spread(std::uint32_t first, Change change);
  void compute_required();

  Graph graph_;
  std::vector<std::uint32_t> references_;
  std::vector<std::uint32_t> level_;
  std::vector<std::uint32_t> required_;
  mutable std::vector<Literal> replacement_;
  std::vector<std::uint32_t> guarded_;
  std::uint32_t opened_ = 0;
  std::uint32_t opened_references_ = 0;
  int opened_size_ = 0;
  std::vector<std::uint32_t> stack_;
};

}  // namespace portweigh::logic

// Subject graph: the combinational view of a network that covering and restructuring work on.
//
// An and-inverter graph with roots, the literals that must exist in the cover. A carry bit of a dedicated
// chain is a box: its operands are roots and its sum and carry are sources, which still have an arrival level
// one above the operands. Index order is topological, boxes included, unless a pass says otherwise.
//
// Tested by tests/logic/graph/graph_test.cpp.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "logic/network/and_inverter_graph.hpp"

namespace portweigh::logic {

class Graph : public AndInverterGraph {
 public:
  struct Box {
    Literal a;
    Literal b;
    Literal carry_in;
    std::uint32_t sum = 0;  // source nodes
    std::uint32_t carry = 0;
    bool continues_chain = false;

    std::array<Literal, 3> operands() const { return {a, b, carry_in}; }
  };

  Literal add_source();
  // Adds the sum and carry sources of one carry bit.
  const Box& add_box(Literal a, Literal b, Literal carry_in, bool continues_chain);
  // Adds a copy of another graph's box: mapped(literal) is the copy of an operand, image[n] will be that of an
  // output.
  void copy_box(const Box& box, const auto& mapped, std::vector<Literal>& image) {
    const Box& added = add_box(mapped(box.a), mapped(box.b), mapped(box.carry_in), box.continues_chain);
    image[box.sum] = Literal(added.sum, false);
    image[box.carry] = Literal(added.carry, false);
  }
  void add_root(Literal literal) { roots_.push_back(literal); }
  void set_root(std::size_t place, Literal literal) { roots_[place] = literal; }
  using AndInverterGraph::retire;
  using AndInverterGraph::truncate;

  std::span<const Literal> roots() const { return roots_; }
  std::span<const Box> boxes() const { return boxes_; }
  // Sources that are no box outputs, in the order they were added.
  std::span<const std::uint32_t> sources() const { return sources_; }
  // Box that the node is an output of, or none.
  std::uint32_t box_of(std::uint32_t node) const { return is_gate(node) ? none : tag(node); }

  // Level of a node above those of its operands: sources 0, a gate one above its higher operand, a box output
  // one above its operands but level with the carry of the bit below it.
  std::uint32_t level(std::uint32_t node, const std::vector<std::uint32_t>& levels) const;
  // Lowers the required levels of what a node reads so that the node is in time.
  void require_operands(std::uint32_t node, std::vector<std::uint32_t>& required) const;

 private:
  std::vector<Literal> roots_;
  std::vector<Box> boxes_;
  std::vector<std::uint32_t> sources_;
};

// AND that becomes an XOR gate where the operands are the two ANDs of one. The ANDs may be left unread.
Literal make_and_or_xor(Graph& graph, Literal a, Literal b);

// The nodes that roots (and the boxes they need) depend on, rebuilt in topological order, with XORs recovered.
// Sources keep their order and number, so literals of sources() correspond.
Graph cleaned(const Graph& graph);
// The same, with node n read as replacement[n] throughout.
Graph cleaned(const Graph& graph, const std::vector<Literal>& replacement);

// Level of every node.
std::vector<std::uint32_t> levels(const Graph& graph);

}  // namespace portweigh::logic

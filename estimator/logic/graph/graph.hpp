// Subject graph: the combinational view of a network that covering and restructuring work on.
//
// Nodes are the constant (node 0), sources and AND or XOR gates, structurally hashed in a compact table
// (8 bytes for a node). Roots are the literals that must exist in the cover. A carry bit of a dedicated chain
// is a box: its operands are roots and its sum and carry are sources, which still have an arrival level one
// above the operands. Index order is topological, boxes included, unless a pass says otherwise.
//
// Tested by tests/logic/graph/graph_test.cpp.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "logic/network/network.hpp"

namespace portweigh::logic {

class Graph {
 public:
  struct Gate {
    std::uint32_t fanin0 = no_fanin;  // raw literals; AND: fanin0 < fanin1, XOR: fanin0 > fanin1
    std::uint32_t fanin1 = no_fanin;
  };
  struct Box {
    Literal a;
    Literal b;
    Literal carry_in;
    std::uint32_t sum = 0;  // source nodes
    std::uint32_t carry = 0;
    bool continues_chain = false;
  };
  static constexpr std::uint32_t no_fanin = 0xFFFFFFFFU;
  static constexpr std::uint32_t no_box = 0xFFFFFFFFU;

  Graph();

  Literal add_source();
  // Adds the sum and carry sources of one carry bit.
  const Box& add_box(Literal a, Literal b, Literal carry_in, bool continues_chain);
  Literal make_and(Literal a, Literal b);
  Literal make_or(Literal a, Literal b) { return !make_and(!a, !b); }
  Literal make_xor(Literal a, Literal b);
  Literal make_mux(Literal select, Literal when_true, Literal when_false);
  void add_root(Literal literal) { roots_.push_back(literal); }
  void set_root(std::size_t place, Literal literal) { roots_[place] = literal; }
  void reserve(std::size_t nodes);

  std::size_t size() const { return gates_.size(); }
  bool is_gate(std::uint32_t node) const { return gates_[node].fanin0 != no_fanin; }
  bool is_xor(std::uint32_t node) const { return is_gate(node) && gates_[node].fanin0 > gates_[node].fanin1; }
  Literal fanin0(std::uint32_t node) const { return Literal::from_raw(gates_[node].fanin0); }
  Literal fanin1(std::uint32_t node) const { return Literal::from_raw(gates_[node].fanin1); }
  std::span<const Literal> roots() const { return roots_; }
  std::span<const Box> boxes() const { return boxes_; }
  // Sources that are no box outputs, in the order they were added.
  std::span<const std::uint32_t> sources() const { return sources_; }
  // Box of a source node, or no_box.
  std::uint32_t box_of(std::uint32_t node) const { return node < box_of_.size() ? box_of_[node] : no_box; }
  std::size_t gate_count() const { return gates_.size() - 1 - sources_.size() - 2 * boxes_.size(); }

  // Makes the gate unfindable: it has been replaced for good and must never be read again.
  void retire(std::uint32_t node) { gates_[node] = {0, 0}; }
  // Removes the gates from `size` upwards, which nothing else may read.
  void truncate(std::size_t size);

 private:
  std::uint32_t find_or_add(std::uint32_t fanin0, std::uint32_t fanin1);
  std::size_t slot_of(std::uint32_t fanin0, std::uint32_t fanin1) const;
  void grow_table();

  std::vector<Gate> gates_;
  std::vector<Literal> roots_;
  std::vector<Box> boxes_;
  std::vector<std::uint32_t> sources_;
  std::vector<std::uint32_t> box_of_;
  std::vector<std::uint32_t> table_;  // open addressing; 0 marks an empty slot
};

// AND that becomes an XOR gate where the operands are the two ANDs of one. The ANDs may be left unread.
Literal make_and_or_xor(Graph& graph, Literal a, Literal b);

// The nodes that roots (and the boxes they need) depend on, rebuilt in topological order, with
// XORs recovered. Sources keep their
// order and number, so literals of sources() correspond.
Graph cleaned(const Graph& graph);
// The same, with node n read as replacement[n] throughout.
Graph cleaned(const Graph& graph, const std::vector<Literal>& replacement);

// Gate levels: sources 0, a gate one above its higher operand, a box output one above its operands.
std::vector<std::uint32_t> levels(const Graph& graph);

}  // namespace portweigh::logic

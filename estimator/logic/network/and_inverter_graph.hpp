// And-inverter graph with native exclusive-or gates: the one node store of networks and of what covers them.
//
// Structurally hashed, so that the same function of the same operands exists once; 8 bytes for a node, plus 8
// to 16 of an open-addressing table. A literal is 2*node + complement; node 0 is the constant false; fan-ins
// always have smaller indices than the node itself, so index order is a topological order. Nodes are the
// constant, gates and sources; what a source stands for is known to `Network` and `Graph`, which derive from
// this. Constants, equal and opposite operands are folded, so a gate made may be an existing literal.
//
// Tested by tests/logic/network/network_test.cpp and tests/logic/graph/graph_test.cpp.
#pragma once

#include <cstdint>
#include <vector>

namespace portweigh::logic {

class Literal {
 public:
  constexpr Literal() = default;
  constexpr Literal(std::uint32_t node, bool complemented)
      : raw_(node << 1U | static_cast<std::uint32_t>(complemented)) {}
  static constexpr Literal from_raw(std::uint32_t raw) {
    Literal literal;
    literal.raw_ = raw;
    return literal;
  }

  constexpr std::uint32_t raw() const { return raw_; }
  constexpr std::uint32_t node() const { return raw_ >> 1U; }
  constexpr bool is_complemented() const { return (raw_ & 1U) != 0; }
  constexpr Literal operator!() const { return from_raw(raw_ ^ 1U); }
  constexpr Literal complement_if(bool condition) const {
    return from_raw(raw_ ^ static_cast<std::uint32_t>(condition));
  }
  // What the literal becomes where each node n is replaced by image[n].
  Literal in(const std::vector<Literal>& image) const {
    return image[node()].complement_if(is_complemented());
  }
  constexpr auto operator<=>(const Literal&) const = default;

 private:
  std::uint32_t raw_ = 0;
};

inline constexpr Literal constant_false = Literal::from_raw(0);
inline constexpr Literal constant_true = Literal::from_raw(1);

class AndInverterGraph {
 public:
  static constexpr std::uint32_t none = 0xFFFFFFFFU;

  Literal make_and(Literal a, Literal b);
  Literal make_or(Literal a, Literal b) { return !make_and(!a, !b); }
  Literal make_xor(Literal a, Literal b);
  Literal make_mux(Literal select, Literal when_true, Literal when_false);
  // Carry of a full adder: true where at least two of three are.
  Literal make_majority(Literal a, Literal b, Literal c);

  std::size_t size() const { return nodes_.size(); }
  std::size_t gate_count() const { return gate_count_; }
  bool is_gate(std::uint32_t node) const { return nodes_[node].fanin0 != none; }
  bool is_and(std::uint32_t node) const { return is_gate(node) && !is_xor(node); }
  bool is_xor(std::uint32_t node) const { return is_gate(node) && nodes_[node].fanin0 > nodes_[node].fanin1; }
  Literal fanin0(std::uint32_t gate) const { return Literal::from_raw(nodes_[gate].fanin0); }
  Literal fanin1(std::uint32_t gate) const { return Literal::from_raw(nodes_[gate].fanin1); }
  void reserve(std::size_t nodes);

 protected:
  AndInverterGraph() : nodes_(1), table_(64, 0) {}

  // `tag` is the owner's: which of its sources the node is.
  std::uint32_t add_source(std::uint32_t tag);
  // Tag of a source; `none` for the constant.
  std::uint32_t tag(std::uint32_t source) const { return nodes_[source].fanin1; }
  // Makes the gate unfindable: it has been replaced for good and must never be read again.
  void retire(std::uint32_t gate) { nodes_[gate] = {0, 0}; }
  // Removes the gates from `size` upwards, which nothing else may read.
  void truncate(std::size_t size);

 private:
  struct Node {
    // Raw literals; AND: fanin0 < fanin1, XOR: fanin0 > fanin1; the constant and sources: none, tag.
    std::uint32_t fanin0 = none;
    std::uint32_t fanin1 = none;
  };

  std::uint32_t find_or_add(std::uint32_t fanin0, std::uint32_t fanin1);
  std::size_t slot_of(std::uint32_t fanin0, std::uint32_t fanin1) const;
  void grow_table();

  std::vector<Node> nodes_;
  std::size_t gate_count_ = 0;
  std::vector<std::uint32_t> table_;  // 0 marks an empty slot
};

}  // namespace portweigh::logic

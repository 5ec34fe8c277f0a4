#include "logic/network/and_inverter_graph.hpp"

#include <utility>

namespace portweigh::logic {

void AndInverterGraph::reserve(std::size_t nodes) {
  nodes_.reserve(nodes);
  while (table_.size() < 2 * nodes) grow_table();
}

std::uint32_t AndInverterGraph::add_source(std::uint32_t tag) {
  nodes_.push_back({none, tag});
  return static_cast<std::uint32_t>(nodes_.size() - 1);
}

std::size_t AndInverterGraph::slot_of(std::uint32_t fanin0, std::uint32_t fanin1) const {
  const std::uint64_t key = (std::uint64_t{fanin0} << 32U | fanin1) * 0x9E3779B97F4A7C15U;
  std::size_t slot = (key >> 24U) & (table_.size() - 1);
  while (table_[slot] != 0) {
    const Node& node = nodes_[table_[slot]];
    if (node.fanin0 == fanin0 && node.fanin1 == fanin1) break;
    slot = (slot + 1) & (table_.size() - 1);
  }
  return slot;
}

void AndInverterGraph::grow_table() {
  table_.assign(table_.size() * 2, 0);
  for (std::uint32_t node = 1; node < nodes_.size(); ++node) {
    if (is_gate(node)) table_[slot_of(nodes_[node].fanin0, nodes_[node].fanin1)] = node;
  }
}

std::uint32_t AndInverterGraph::find_or_add(std::uint32_t fanin0, std::uint32_t fanin1) {
  const std::size_t slot = slot_of(fanin0, fanin1);
  if (table_[slot] != 0) return table_[slot];
  const auto node = static_cast<std::uint32_t>(nodes_.size());
  nodes_.push_back({fanin0, fanin1});
  ++gate_count_;
  table_[slot] = node;
  if (nodes_.size() * 2 > table_.size()) grow_table();
  return node;
}

// The latest gates are at the ends of their probe sequences, so their slots can simply be emptied.
void AndInverterGraph::truncate(std::size_t size) {
  for (; nodes_.size() > size; --gate_count_) {
    table_[slot_of(nodes_.back().fanin0, nodes_.back().fanin1)] = 0;
    nodes_.pop_back();
  }
}

Literal AndInverterGraph::make_and(Literal a, Literal b) {
  if (b < a) std::swap(a, b);
  if (a.node() == 0) return a == constant_true ? b : constant_false;
  if (a == b) return a;
  if (a == !b) return constant_false;
  return {find_or_add(a.raw(), b.raw()), false};
}

Literal AndInverterGraph::make_xor(Literal a, Literal b) {
  const bool complemented = a.is_complemented() != b.is_complemented();
  a = Literal(a.node(), false);
  b = Literal(b.node(), false);
  if (b < a) std::swap(a, b);
  if (a == b) return constant_false.complement_if(complemented);
  if (a.node() == 0) return b.complement_if(complemented);
  return Literal(find_or_add(b.raw(), a.raw()), false).complement_if(complemented);
}

Literal AndInverterGraph::make_mux(Literal select, Literal when_true, Literal when_false) {
  if (when_true == when_false) return when_true;
  if (when_true == !when_false) return make_xor(select, when_false);
  if (select == when_true) return make_or(select, when_false);
  if (select == !when_true) return make_and(!select, when_false);
  if (select == when_false) return make_and(select, when_true);
  if (select == !when_false) return make_or(!select, when_true);
  return make_or(make_and(select, when_true), make_and(!select, when_false));
}

Literal AndInverterGraph::make_majority(Literal a, Literal b, Literal c) {
  return make_or(make_and(a, b), make_and(c, make_xor(a, b)));
}

}  // namespace portweigh::logic

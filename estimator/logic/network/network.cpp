#include "logic/network/network.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace portweigh::logic {

Network::Network() {
  nodes_.push_back(Node{});
}

std::uint32_t Network::add_source(NodeKind kind, std::size_t index) {
  const auto node = static_cast<std::uint32_t>(nodes_.size());
  nodes_.push_back(Node{kind, {}, {}, static_cast<std::uint32_t>(index)});
  return node;
}

Literal Network::add_input(std::string_view name) {
  const Literal literal(add_source(NodeKind::input, inputs_.size()), false);
  inputs_.push_back({std::string(name), literal});
  return literal;
}

Literal Network::add_register(std::string_view name) {
  Register added;
  added.name = name;
  added.node = add_source(NodeKind::register_output, registers_.size());
  registers_.push_back(std::move(added));
  return {registers_.back().node, false};
}

std::uint32_t Network::add_memory(std::string_view name, std::uint32_t words, std::uint32_t bits,
                                  std::vector<std::uint64_t> contents) {
  if (words == 0 || bits == 0 || bits > 64 || contents.size() > words) {
    throw std::logic_error(
        fmt::format("memory {}: {} words of {} bits, {} initial words", name, words, bits, contents.size()));
  }
  memories_.push_back(Memory{std::string(name), words, bits, std::move(contents), {}, {}});
  return static_cast<std::uint32_t>(memories_.size() - 1);
}

void Network::add_memory_write(std::uint32_t memory, MemoryWritePort port) {
  Memory& target = memories_.at(memory);
  if (port.data.size() != target.bits) {
    throw std::logic_error(fmt::format("memory {}: {} data bits written to words of {}", target.name,
                                       port.data.size(), target.bits));
  }
  target.writes.push_back(std::move(port));
}

std::vector<Literal> Network::add_memory_read(std::uint32_t memory, std::vector<Literal> address,
                                              ReadStyle style) {
  MemoryReadPort port;
  port.style = style;
  port.address = std::move(address);
  const std::uint32_t bits = memories_.at(memory).bits;
  std::vector<Literal> data;
  for (std::uint32_t bit = 0; bit < bits; ++bit) {
    port.outputs.push_back(add_source(NodeKind::memory_output, memory));
    data.emplace_back(port.outputs.back(), false);
  }
  memories_[memory].reads.push_back(std::move(port));
  return data;
}

Literal Network::make_gate(NodeKind kind, Literal a, Literal b) {
  if (b < a) std::swap(a, b);
  auto& table = kind == NodeKind::and_gate ? and_table_ : xor_table_;
  const std::uint64_t key = std::uint64_t{a.raw()} << 32U | b.raw();
  const auto [entry, is_new] = table.try_emplace(key, static_cast<std::uint32_t>(nodes_.size()));
  if (is_new) nodes_.push_back(Node{kind, a, b, 0});
  return {entry->second, false};
}

Literal Network::make_and(Literal a, Literal b) {
  if (a == constant_false || b == constant_false || a == !b) return constant_false;
  if (a == constant_true || a == b) return b;
  if (b == constant_true) return a;
  return make_gate(NodeKind::and_gate, a, b);
}

Literal Network::make_xor(Literal a, Literal b) {
  const bool complemented = a.is_complemented() != b.is_complemented();
  const Literal x(a.node(), false);
  const Literal y(b.node(), false);
  if (x == y) return constant_false.complement_if(complemented);
  if (x == constant_false) return y.complement_if(complemented);
  if (y == constant_false) return x.complement_if(complemented);
  return make_gate(NodeKind::xor_gate, x, y).complement_if(complemented);
}

Literal Network::make_mux(Literal select, Literal when_true, Literal when_false) {
  if (when_true == when_false) return when_true;
  if (when_true == !when_false) return make_xor(select, when_false);
  if (select == when_true) return make_or(select, when_false);
  if (select == !when_true) return make_and(!select, when_false);
  if (select == when_false) return make_and(select, when_true);
  if (select == !when_false) return make_or(!select, when_true);
  return make_or(make_and(select, when_true), make_and(!select, when_false));
}

Literal Network::make_majority(Literal a, Literal b, Literal c) {
  return make_or(make_and(a, b), make_and(c, make_xor(a, b)));
}

void Network::connect(Literal output, Literal next, Literal enable, Literal reset, bool reset_value) {
  const Node& target = nodes_.at(output.node());
  if (target.kind != NodeKind::register_output || output.is_complemented()) {
    throw std::logic_error(fmt::format("literal {} is not a register output", output.raw()));
  }
  Register& reg = registers_[target.index];
  if (reg.is_connected) throw std::logic_error(fmt::format("register {} is connected twice", reg.name));
  reg.next = next;
  reg.enable = enable;
  reg.reset = reset;
  reg.reset_value = reset_value;
  reg.is_connected = true;
}

void Network::add_output(std::string_view name, Literal literal) {
  outputs_.push_back({std::string(name), literal});
}

void Network::mark_chain(Chain chain) {
  if (!chain.empty()) chains_.push_back(std::move(chain));
}

std::size_t Network::gate_count() const {
  return static_cast<std::size_t>(std::count_if(nodes_.begin(), nodes_.end(), [](const Node& node) {
    return node.kind == NodeKind::and_gate || node.kind == NodeKind::xor_gate;
  }));
}

void Network::check_complete() const {
  for (const Register& reg : registers_) {
    if (!reg.is_connected) throw std::logic_error(fmt::format("register {} has no next value", reg.name));
  }
}

}  // namespace portweigh::logic

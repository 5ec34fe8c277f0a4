#include "logic/network/network.hpp"

#include <fmt/core.h>

#include <stdexcept>
#include <utility>

namespace portweigh::logic {

std::uint32_t Network::add_source(NodeKind kind, std::size_t index) {
  sources_.push_back({kind, static_cast<std::uint32_t>(index)});
  return AndInverterGraph::add_source(static_cast<std::uint32_t>(sources_.size() - 1));
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

void Network::connect(Literal output, Literal next, Literal enable, Literal reset, bool reset_value) {
  if (output.node() >= size() || kind(output.node()) != NodeKind::register_output ||
      output.is_complemented()) {
    throw std::logic_error(fmt::format("literal {} is not a register output", output.raw()));
  }
  Register& reg = registers_[source_index(output.node())];
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

void Network::check_complete() const {
  for (const Register& reg : registers_) {
    if (!reg.is_connected) throw std::logic_error(fmt::format("register {} has no next value", reg.name));
  }
}

}  // namespace portweigh::logic

#include "netlist_writers_fixture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <stdexcept>
#include <utility>
#include <vector>

namespace portweigh::logic {
namespace {

void refuse_memories(const Network& network) {
  if (!network.memories().empty()) throw std::logic_error("netlist files can't hold memories");
}

// Next value with enable and reset in front: what a plain register does.
Literal plain_next(Network& network, const Register& reg) {
  const Literal output(reg.node, false);
  const Literal held = network.make_mux(reg.enable, reg.next, output);
  return network.make_mux(reg.reset, constant_false.complement_if(reg.reset_value), held);
}

// The network as numbered ANDs: variables of inputs, then latches, then ANDs.
class AndNumbering {
 public:
  AndNumbering(const Network& network, const std::vector<Literal>& next_values)
      : literal_of_(network.size(), 0), next_variable_(1) {
    for (const NamedLiteral& input : network.inputs())
      literal_of_[input.literal.node()] = 2 * next_variable_++;
    for (const Register& reg : network.registers()) literal_of_[reg.node] = 2 * next_variable_++;
    for (std::uint32_t node = 1; node < network.size(); ++node) {
      if (network.is_gate(node)) add_gate(network, node);
    }
    for (const Literal next : next_values) nexts.push_back(mapped(next));
    for (const NamedLiteral& output : network.outputs()) outputs.push_back(mapped(output.literal));
  }

  std::vector<std::array<std::uint32_t, 3>> ands;  // output, larger operand, smaller operand
  std::vector<std::uint32_t> nexts;
  std::vector<std::uint32_t> outputs;

 private:
  std::uint32_t mapped(Literal literal) const {
    return literal_of_[literal.node()] ^ static_cast<std::uint32_t>(literal.is_complemented());
  }

  std::uint32_t add_and(std::uint32_t a, std::uint32_t b) {
    const std::uint32_t output = 2 * next_variable_++;
    ands.push_back({output, std::max(a, b), std::min(a, b)});
    return output;
  }

  void add_gate(const Network& network, std::uint32_t gate) {
    const std::uint32_t a = mapped(network.fanin0(gate));
    const std::uint32_t b = mapped(network.fanin1(gate));
    const std::uint32_t both = add_and(a, b);
    literal_of_[gate] = both;
    if (network.is_xor(gate)) literal_of_[gate] = add_and(both ^ 1U, add_and(a ^ 1U, b ^ 1U) ^ 1U);
  }

  std::vector<std::uint32_t> literal_of_;
  std::uint32_t next_variable_;
};

// Start of the internal signal names: no input or output name starts like it.
std::string free_prefix(const Network& network) {
  std::string prefix = "n";
  const auto is_taken = [&prefix](const NamedLiteral& named) { return named.name.starts_with(prefix); };
  while (std::any_of(network.inputs().begin(), network.inputs().end(), is_taken) ||
         std::any_of(network.outputs().begin(), network.outputs().end(), is_taken)) {
    prefix += "_n";
  }
  return prefix;
}

void append_delta(std::string& text, std::uint32_t value) {
  while (value >= 0x80U) {
    text.push_back(static_cast<char>((value & 0x7FU) | 0x80U));
    value >>= 7U;
  }
  text.push_back(static_cast<char>(value));
}

}  // namespace

std::string write_aiger(const Network& source, AigerForm form) {
  refuse_memories(source);
  source.check_complete();
  Network network = source;
  std::vector<Literal> next_values;
  for (const Register& reg : source.registers()) next_values.push_back(plain_next(network, reg));
  const AndNumbering numbered(network, next_values);
  const bool is_binary = form == AigerForm::binary;
  const std::size_t inputs = network.inputs().size();
  const std::size_t latches = network.registers().size();
  std::string text =
      fmt::format("{} {} {} {} {} {}\n", is_binary ? "aig" : "aag", inputs + latches + numbered.ands.size(),
                  inputs, latches, network.outputs().size(), numbered.ands.size());
  const auto out = std::back_inserter(text);
  if (!is_binary) {
    for (std::size_t i = 0; i < inputs; ++i) fmt::format_to(out, "{}\n", 2 * (i + 1));
  }
  for (std::size_t i = 0; i < latches; ++i) {
    if (!is_binary) fmt::format_to(out, "{} ", 2 * (inputs + i + 1));
    fmt::format_to(out, "{}{}\n", numbered.nexts[i], network.registers()[i].reset_value ? " 1" : "");
  }
  for (const std::uint32_t output : numbered.outputs) fmt::format_to(out, "{}\n", output);
  for (const auto& [output, larger, smaller] : numbered.ands) {
    if (is_binary) {
      append_delta(text, output - larger);
      append_delta(text, larger - smaller);
    } else {
      fmt::format_to(out, "{} {} {}\n", output, larger, smaller);
    }
  }
  for (std::size_t i = 0; i < inputs; ++i) fmt::format_to(out, "i{} {}\n", i, network.inputs()[i].name);
  for (std::size_t i = 0; i < latches; ++i) fmt::format_to(out, "l{} {}\n", i, network.registers()[i].name);
  for (std::size_t i = 0; i < network.outputs().size(); ++i) {
    fmt::format_to(out, "o{} {}\n", i, network.outputs()[i].name);
  }
  return text;
}

std::string write_blif(const Network& source, std::string_view model) {
  refuse_memories(source);
  source.check_complete();
  Network network = source;
  std::vector<Literal> next_values;
  for (const Register& reg : source.registers()) next_values.push_back(plain_next(network, reg));
  const std::string prefix = free_prefix(network);
  const auto name = [&prefix](Literal literal) { return fmt::format("{}{}", prefix, literal.node()); };
  std::string text = fmt::format(".model {}\n.inputs", model);
  const auto out = std::back_inserter(text);
  for (const NamedLiteral& input : network.inputs()) fmt::format_to(out, " {}", input.name);
  text += "\n.outputs";
  for (const NamedLiteral& output : network.outputs()) fmt::format_to(out, " {}", output.name);
  text += fmt::format("\n.names {}0\n", prefix);
  for (const NamedLiteral& input : network.inputs()) {
    fmt::format_to(out, ".names {} {}\n1 1\n", input.name, name(input.literal));
  }
  for (std::size_t i = 0; i < network.registers().size(); ++i) {
    const Register& reg = network.registers()[i];
    const Literal next = next_values[i];
    fmt::format_to(out, ".names {0} {1}next{2}\n{3} 1\n.latch {1}next{2} {1}{4} {5}\n", name(next), prefix, i,
                   next.is_complemented() ? 0 : 1, reg.node, reg.reset_value ? 1 : 0);
  }
  for (std::uint32_t index = 1; index < network.size(); ++index) {
    if (!network.is_gate(index)) continue;
    const Literal a = network.fanin0(index);
    const Literal b = network.fanin1(index);
    if (network.is_and(index)) {
      fmt::format_to(out, ".names {} {} {}{}\n{}{} 1\n", name(a), name(b), prefix, index,
                     a.is_complemented() ? 0 : 1, b.is_complemented() ? 0 : 1);
    } else {
      fmt::format_to(out, ".names {} {} {}{}\n01 1\n10 1\n", name(a), name(b), prefix, index);
    }
  }
  for (const NamedLiteral& output : network.outputs()) {
    fmt::format_to(out, ".names {} {}\n{} 1\n", name(output.literal), output.name,
                   output.literal.is_complemented() ? 0 : 1);
  }
  return text + ".end\n";
}

}  // namespace portweigh::logic

// A synchronous logic network: the hardware twin of a block.
//
// The combinational part is an and-inverter graph. Sequential elements are registers (with clock enable and
// synchronous reset, as most fabrics offer them) and memories. Adders leave a mark (`Chain`) on the nodes that
// form them, so that a fabric with carry chains can count one cell for each bit, and a fabric without them
// covers the very same nodes with LUTs.
//
// One clock drives the whole network. Example: a toggle flip-flop is
//   Literal q = net.add_register("q"); net.connect(q, !q); net.add_output("q", q);
//
// Tested by tests/logic/network/network_test.cpp.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "logic/network/and_inverter_graph.hpp"

namespace portweigh::logic {

enum class NodeKind : std::uint8_t { constant, input, register_output, memory_output, and_gate, xor_gate };

// Enable and reset are level-sensitive and synchronous; reset wins over enable.
struct Register {
  std::string name;
  std::uint32_t node = 0;  // its output
  Literal next;
  Literal enable = constant_true;
  Literal reset = constant_false;
  bool reset_value = false;
  bool is_connected = false;
};

struct MemoryWritePort {
  Literal enable;
  std::vector<Literal> address;  // least significant first
  std::vector<Literal> data;
};

enum class ReadStyle : std::uint8_t { combinational, registered };

struct MemoryReadPort {
  ReadStyle style = ReadStyle::combinational;
  std::vector<Literal> address;
  std::vector<std::uint32_t> outputs;  // one memory_output node for each data bit
};

struct Memory {
  std::string name;
  std::uint32_t words = 0;
  std::uint32_t bits = 0;
  std::vector<std::uint64_t> contents;  // initial words; empty means all zero
  std::vector<MemoryWritePort> writes;
  std::vector<MemoryReadPort> reads;
};

// One bit of an adder: sum = a ^ b ^ carry_in, carry_out = majority(a, b, carry_in).
struct ChainBit {
  Literal a;
  Literal b;
  Literal carry_in;
  Literal sum;
  Literal carry_out;
};
using Chain = std::vector<ChainBit>;  // least significant first

struct NamedLiteral {
  std::string name;
  Literal literal;
};

class Network : public AndInverterGraph {
 public:
  // Sources
  Literal add_input(std::string_view name);
  Literal add_register(std::string_view name);
  std::uint32_t add_memory(std::string_view name, std::uint32_t words, std::uint32_t bits,
                           std::vector<std::uint64_t> contents = {});
  void add_memory_write(std::uint32_t memory, MemoryWritePort port);
  // Returns the data bits, least significant first. The address must exist already.
  std::vector<Literal> add_memory_read(std::uint32_t memory, std::vector<Literal> address, ReadStyle style);

  // `output` must be an unconnected register output, not complemented; throws std::logic_error otherwise.
  void connect(Literal output, Literal next, Literal enable = constant_true, Literal reset = constant_false,
               bool reset_value = false);
  void add_output(std::string_view name, Literal literal);
  void mark_chain(Chain chain);

  NodeKind kind(std::uint32_t node) const {
    if (is_gate(node)) return is_xor(node) ? NodeKind::xor_gate : NodeKind::and_gate;
    return node == 0 ? NodeKind::constant : sources_[tag(node)].kind;
  }
  // Of a source: the input, the register or the memory that it is an output of.
  std::uint32_t source_index(std::uint32_t node) const { return sources_[tag(node)].index; }
  std::span<const NamedLiteral> inputs() const { return inputs_; }
  std::span<const NamedLiteral> outputs() const { return outputs_; }
  std::span<const Register> registers() const { return registers_; }
  std::span<const Memory> memories() const { return memories_; }
  std::span<const Chain> chains() const { return chains_; }

  // Throws std::logic_error naming the first register that was never connected.
  void check_complete() const;

 private:
  struct Source {
    NodeKind kind = NodeKind::input;
    std::uint32_t index = 0;
  };
  std::uint32_t add_source(NodeKind kind, std::size_t index);

  std::vector<Source> sources_;
  std::vector<NamedLiteral> inputs_;
  std::vector<NamedLiteral> outputs_;
  std::vector<Register> registers_;
  std::vector<Memory> memories_;
  std::vector<Chain> chains_;
};

}  // namespace portweigh::logic

// A synchronous logic network: the hardware twin of a block.
//
// The combinational part is an and-inverter graph with native exclusive-or nodes, structurally hashed, so
// that the same function of the same operands exists once. A literal is 2*node + complement; node 0 is the
// constant false; fan-ins always have smaller indices than the node itself, so index order is a topological
// order. Sequential elements are registers (with clock enable and synchronous reset, as most fabrics offer
// them) and memories. Adders leave a mark (`Chain`) on the nodes that form them, so that a fabric with carry
// chains can count one cell for each bit, and a fabric without them covers the very same nodes with LUTs.
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
#include <unordered_map>
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
  constexpr bool operator==(const Literal&) const = default;
  constexpr auto operator<=>(const Literal&) const = default;

 private:
  std::uint32_t raw_ = 0;
};

inline constexpr Literal constant_false = Literal::from_raw(0);
inline constexpr Literal constant_true = Literal::from_raw(1);

enum class NodeKind : std::uint8_t { constant, input, register_output, memory_output, and_gate, xor_gate };

struct Node {
  NodeKind kind = NodeKind::constant;
  Literal fanin0;  // gates only; fanin0 < fanin1
  Literal fanin1;
  std::uint32_t index = 0;  // input, register or memory read port number for the source kinds
};

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

class Network {
 public:
  Network();

  // Sources
  Literal add_input(std::string_view name);
  Literal add_register(std::string_view name);
  std::uint32_t add_memory(std::string_view name, std::uint32_t words, std::uint32_t bits,
                           std::vector<std::uint64_t> contents = {});
  void add_memory_write(std::uint32_t memory, MemoryWritePort port);
  // Returns the data bits, least significant first. The address must exist already.
  std::vector<Literal> add_memory_read(std::uint32_t memory, std::vector<Literal> address, ReadStyle style);

  // Gates: constants, equal and opposite operands are folded, so the result may be an existing literal.
  Literal make_and(Literal a, Literal b);
  Literal make_or(Literal a, Literal b) { return !make_and(!a, !b); }
  Literal make_xor(Literal a, Literal b);
  Literal make_mux(Literal select, Literal when_true, Literal when_false);
  // Carry of a full adder: true where at least two of three are.
  Literal make_majority(Literal a, Literal b, Literal c);

  // `output` must be an unconnected register output, not complemented; throws std::logic_error otherwise.
  void connect(Literal output, Literal next, Literal enable = constant_true, Literal reset = constant_false,
               bool reset_value = false);
  void add_output(std::string_view name, Literal literal);
  void mark_chain(Chain chain);

  std::size_t size() const { return nodes_.size(); }
  const Node& node(std::uint32_t index) const { return nodes_[index]; }
  std::span<const Node> nodes() const { return nodes_; }
  std::span<const NamedLiteral> inputs() const { return inputs_; }
  std::span<const NamedLiteral> outputs() const { return outputs_; }
  std::span<const Register> registers() const { return registers_; }
  std::span<const Memory> memories() const { return memories_; }
  std::span<const Chain> chains() const { return chains_; }
  std::size_t gate_count() const;

  // Throws std::logic_error naming the first register that was never connected.
  void check_complete() const;

 private:
  Literal make_gate(NodeKind kind, Literal a, Literal b);
  std::uint32_t add_source(NodeKind kind, std::size_t index);

  std::vector<Node> nodes_;
  std::vector<NamedLiteral> inputs_;
  std::vector<NamedLiteral> outputs_;
  std::vector<Register> registers_;
  std::vector<Memory> memories_;
  std::vector<Chain> chains_;
  std::unordered_map<std::uint64_t, std::uint32_t> and_table_;
  std::unordered_map<std::uint64_t, std::uint32_t> xor_table_;
};

}  // namespace portweigh::logic

// Cycle simulation of a network, 64 independent traffic streams at once (one bit of a 64-bit lane each).
//
//   Simulator sim(net);
//   sim.set(data, 0x5A);              // the same value in all streams
//   sim.set(data, 3, 0xA5);           // stream 3 differs
//   sim.clock();                      // registers and memories take their next values in every stream
//   std::uint64_t crc = sim.value(state, 3);
//
// Reading evaluates what has changed since the last reading, so a value is never stale. Undriven inputs are
// 0. Registers start at their reset value, memories at their contents. Reset wins over enable. A registered
// memory read returns the word as it was before a write at the same edge; an address past the last word
// reads 0 and writes nothing.
//
// Toggles: at every clock the settled value of each node is compared with its settled value at the previous
// clock, and the changed streams are added up; so toggles / (64 * clocks) is the activity of the node.
// reset_toggles() starts a new count, so that activity can be split by port state. Probes are further
// functions of node values that are simulated and counted along (activity.hpp makes them of a cover). A probe
// becomes a chain of multiplexers, one for each node of its decision diagram. Counting costs as much as
// simulating, so it can be restricted to the nodes that matter.
//
// Tested by tests/logic/simulation/simulate_test.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "logic/graph/truth_table.hpp"
#include "logic/network/network.hpp"
#include "logic/network/word.hpp"

namespace portweigh::logic {

enum class ToggleCounting : std::uint8_t { on, off };

// A function of earlier values: leaves below the number of network nodes are nodes, others earlier probes.
struct Probe {
  std::vector<std::uint32_t> leaves;
  TruthTable function;
};

class Simulator {
 public:
  static constexpr unsigned streams = 64;

  // The network must outlive the simulator and not grow; throws std::logic_error where a register is open.
  explicit Simulator(const Network& network, ToggleCounting counting = ToggleCounting::on);

  // Inputs. Bits of the word that are no inputs: std::logic_error.
  void set(const Word& word, std::uint64_t value);
  void set(const Word& word, unsigned stream, std::uint64_t value);
  // By name: a single input `name`, or the word `name[0]`, `name[1]`, ...
  void set(std::string_view name, std::uint64_t value);
  void set(std::string_view name, unsigned stream, std::uint64_t value);
  void set_lanes(Literal input, std::uint64_t lanes);

  // Reading, in the present cycle (after the last clock, with the inputs now set).
  std::uint64_t value(const Word& word, unsigned stream = 0) const;
  // By the name of an output, an input or a register (bit or word), looked for in this order.
  std::uint64_t value(std::string_view name, unsigned stream = 0) const;
  std::uint64_t lanes(Literal literal) const;
  std::uint64_t memory_word(std::uint32_t memory, std::uint64_t address, unsigned stream = 0) const;

  void evaluate() const;
  void clock();
  void clock(unsigned times);

  // Counts since the last reset, summed over the streams. std::logic_error for a node that isn't counted.
  std::uint64_t toggles(std::uint32_t node) const;
  std::uint64_t probe_toggles(std::size_t probe) const;
  // Stream-clocks with the read port's or write port's access: reads change address, writes are enabled.
  std::uint64_t memory_reads(std::uint32_t memory) const { return memory_states_.at(memory).reads; }
  std::uint64_t memory_writes(std::uint32_t memory) const { return memory_states_.at(memory).writes; }
  std::uint64_t clocks_counted() const { return clocks_counted_; }
  void reset_toggles();

  // Counts all nodes and the probes.
  void set_probes(const std::vector<Probe>& probes);
  // Counts only these nodes and the probes.
  void set_probes(const std::vector<Probe>& probes, std::span<const std::uint32_t> counted_nodes);
  std::size_t probe_count() const { return probe_count_; }
  const Network& network() const { return *network_; }

 private:
  // A gate, or a combinational read port with its first output.
  struct Step {
    NodeKind kind;
    std::uint32_t output;
    std::uint32_t operand0;  // raw literals of a gate; memory and number of a port
    std::uint32_t operand1;
  };
  // values[target] = values[select] ? values[high] : values[low]
  struct Multiplexer {
    std::uint32_t target;
    std::uint32_t select;
    std::uint32_t low;
    std::uint32_t high;
  };
  struct MemoryState {
    std::vector<std::uint64_t> words;  // address * 64 + stream
    std::vector<std::vector<std::uint64_t>> last_addresses;
    std::uint64_t reads = 0;
    std::uint64_t writes = 0;
  };
  using Lanes = std::vector<std::uint64_t>;
  struct NameHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view name) const { return std::hash<std::string_view>()(name); }
  };
  using NamedBits = std::unordered_map<std::string, std::vector<Literal>, NameHash, std::equal_to<>>;

  void start();
  void set_bits(const std::vector<Literal>& bits, std::uint64_t value, std::uint64_t in_streams);
  static std::uint64_t lane_of(const Lanes& values, std::uint32_t raw);
  std::uint64_t lane(Literal literal) const { return lane_of(values_, literal.raw()); }
  std::uint64_t gather(const std::vector<Literal>& bits, unsigned stream) const;
  void read_port(std::uint32_t memory, const MemoryReadPort& port, Lanes& target) const;
  void write_memory_state(std::uint32_t memory);
  void count_memory_reads(std::uint32_t memory);
  void compile_probes(const std::vector<Probe>& probes);
  void evaluate_probes();
  void count_toggles();
  void flush_toggles() const;
  std::uint64_t total_of(std::uint32_t place) const;
  const std::vector<Literal>& named(std::string_view name) const;
  const std::vector<Literal>& named_inputs(std::string_view name);

  const Network* network_;
  ToggleCounting counting_;
  std::vector<Step> steps_;  // in the order of evaluation
  // Evaluated lazily when something is read: hence mutable.
  mutable Lanes values_;  // nodes, probes, then what the probes' multiplexers need in between
  mutable bool is_settled_ = false;
  Lanes previous_;  // of the counted ones
  Lanes carry_;
  bool has_previous_ = false;
  std::size_t probe_count_ = 0;
  std::vector<Multiplexer> probe_program_;
  std::vector<std::uint32_t> counted_;     // places in values_
  std::vector<std::uint32_t> counter_of_;  // place -> number in counted_, or not_counted
  NamedBits named_inputs_;                 // found before
  mutable NamedBits named_;
  std::vector<MemoryState> memory_states_;
  // Bit-sliced counters of four bits, emptied into the totals before they can overflow.
  mutable std::vector<Lanes> planes_;
  mutable std::vector<std::uint64_t> totals_;
  mutable unsigned pending_ = 0;
  std::uint64_t clocks_counted_ = 0;
  Lanes next_;
};

}  // namespace portweigh::logic

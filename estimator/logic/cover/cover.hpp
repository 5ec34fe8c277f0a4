// Covering of a network with K-input lookup tables (LUTs), as synthesis for programmable logic does it.
//
// The combinational part between sources (inputs, register outputs, memory outputs) and roots (outputs;
// register next value, enable and reset; memory address, data and enable) is covered. Before that, logic that
// reaches no output, constant registers and duplicate registers are swept; enables and resets hidden in the
// next-value logic are recovered where the fabric's registers offer them. With dedicated carry chains, marked
// adders take one cell for each bit: sums are sources and operands are roots of the covering. Inverters are
// absorbed by whatever reads them.
//
//   Cover c = cover(net, {.lut_inputs = 4});   // c.luts.size(), c.levels, c.registers.size()
//
// Method: priority cuts (Mishchenko, Cho, Chatterjee, Brayton, ICCAD 2007): a depth pass, area flow, then
// exact local area under required times (sources and measurements: priority_cuts.hpp). Effort::restructure
// first tries several structures of the same function (as elaborated, balanced, rewritten) and keeps the one
// that covers best.
//
// Tested by tests/logic/cover/cover_test.cpp, and beside berkeley-abc by tests/logic/cover/covering_reference_test.cpp.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "logic/graph/combinational_view.hpp"
#include "logic/graph/truth_table.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {

enum class Effort : std::uint8_t { covering_only, restructure };

struct CoverOptions {
  unsigned lut_inputs = 4;  // 3..8
  CarryChain carry_chain = CarryChain::none;
  RegisterStyle register_style = RegisterStyle::with_enable_and_reset;
  Effort effort = Effort::restructure;
};

// A signal of the cover: signal 0 is constant false; literals are 2 * signal + complement as in `Network`.
enum class SignalKind : std::uint8_t { constant, source, lut, sum, carry };
struct Signal {
  SignalKind kind = SignalKind::constant;
  std::uint32_t index = 0;  // source: node of the network; lut: place in luts; sum, carry: in carry_bits
};

struct Lut {
  std::uint32_t signal = 0;
  std::vector<std::uint32_t> leaves;  // signals; input i of the function
  TruthTable function;
  unsigned level = 0;
};

struct CarryBit {
  Literal a;
  Literal b;
  Literal carry_in;                 // of this cover
  std::uint32_t sum = 0;            // signal, 0 where unused
  std::uint32_t carry = 0;          // signal, 0 where unused
  bool continues_chain = false;     // carry_in comes from the carry bit before this one
  bool carry_leaves_chain = false;  // costs a cell to bring the carry out
  unsigned level = 0;
};

struct CoveredRegister {
  std::uint32_t index = 0;  // in Network::registers()
  std::uint32_t signal = 0;
  Literal next;  // literals of the cover
  Literal enable = constant_true;
  Literal reset = constant_false;
  bool reset_value = false;
};

struct CoveredOutput {
  std::string name;
  Literal literal;
};

struct CoveredMemory {
  std::uint32_t index = 0;     // in Network::memories()
  std::vector<Literal> roots;  // its address, data and enable bits
};

struct Cover {
  CoverOptions options;
  std::vector<Signal> signals;  // in topological order
  std::vector<Lut> luts;        // in topological order
  std::vector<CarryBit> carry_bits;
  std::vector<CoveredRegister> registers;
  std::vector<CoveredOutput> outputs;
  std::vector<CoveredMemory> memories;
  // Most LUTs (a carry bit's entry counts as one) on a path from a source to a root.
  unsigned levels = 0;
  // Most carry bits in a row.
  unsigned longest_carry = 0;

  // How many roots, LUT inputs and carry bits read each signal.
  std::vector<std::uint32_t> fanouts() const;
};

// Throws std::logic_error for an incomplete network or lut_inputs outside 3..8.
Cover cover(const Network& network, const CoverOptions& options);

}  // namespace portweigh::logic

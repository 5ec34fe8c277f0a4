// The combinational view of a network: its logic as a subject graph between sources and roots.
//
// Only what reaches an output is built. Registers that keep their initial value for ever become constants,
// registers with equal next value, enable, reset and reset value become one; both are found by repeating the
// construction until nothing changes, as synthesis sweeps do. Example: a counter whose count no output
// depends on disappears; two copies of one synchroniser count once.
//
// Marked adders: with dedicated chains their bits become boxes of the graph; otherwise their gates are taken as
// they are.
//
// Tested by tests/logic/graph/combinational_view_test.cpp.
#pragma once

#include <cstdint>
#include <vector>

#include "logic/graph/graph.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {

enum class CarryChain : std::uint8_t { none, dedicated };
enum class RegisterStyle : std::uint8_t { with_enable_and_reset, plain };

struct ViewOptions {
  CarryChain carry_chain = CarryChain::none;
  RegisterStyle register_style = RegisterStyle::with_enable_and_reset;
  // Bits; shorter marked adders are covered with LUTs. All kinds of block at their defaults: 1 to 3 the same,
  // from 4 0.7 % more LUTs but 0.2 % fewer cells.
  unsigned shortest_chain = 3;
};

struct CombinationalView {
  struct RegisterRoots {
    std::uint32_t index = 0;  // in Network::registers()
    bool reset_value = false;
    // Places in graph.roots().
    std::uint32_t next = 0;
    std::uint32_t enable = 0;
    std::uint32_t reset = 0;
  };
  struct MemoryRoots {
    std::uint32_t index = 0;
    std::uint32_t first_root = 0;
    std::uint32_t root_count = 0;
  };

  Graph graph;
  std::vector<std::uint32_t> source_nodes;  // network node of each of graph.sources()
  // Roots in this order: outputs, three for each register, those of the memories.
  std::vector<RegisterRoots> registers;
  std::vector<MemoryRoots> memories;
};

CombinationalView combinational_view(const Network& network, const ViewOptions& options);

}  // namespace portweigh::logic

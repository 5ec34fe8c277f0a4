// What each block takes on each fabric and core: elaborated, covered, simulated and executed once, then
// reused.
//
// Structure once, arithmetic many: a block's network does not depend on the part but on the kind of fabric
// (LUT inputs, carry chains, smallest RAM), its routine on the core class. The library computes each pair at
// first use, from any thread, and keeps it; `prepare` computes many in parallel beforehand. Results are the
// same for any number of threads, since every pair is computed on its own with its own seed. Tested by
// tests/options/search/consider_test.cpp.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/protocol_facts.hpp"
#include "blocks/settings.hpp"
#include "firmware/core.hpp"
#include "firmware/cost.hpp"
#include "logic/cover/pack.hpp"

namespace portweigh::blocks {
struct Kind;
}

namespace portweigh::options {

// A block with its settings, wherever it comes from: a function, the command line, or a soft processor that
// an option adds by itself.
struct BlockUse {
  const blocks::Kind* kind = nullptr;
  blocks::Settings settings;
};

// "crc width=16" for people: the kind, and the settings that differ from their default.
std::string describe(const BlockUse& use);

// The traits of a fabric that change a cover.
struct FabricTraits {
  unsigned lut_inputs = 4;
  bool has_carry_chain = true;
  bool has_register_control = true;
  unsigned ram_block_bits = 4096;  // 0: no block RAM
  unsigned smallest_ram_bits = 0;  // memories with fewer bits become registers
  logic::RamReads ram_reads = logic::RamReads::registered;
  auto operator<=>(const FabricTraits&) const = default;
};

// Counts of a block on a fabric.
struct LogicFigures {
  logic::FabricCount count;
};

// Toggles of LUT and register outputs, glitches counted, and accesses of RAM: what every clock costs, and
// what each event of the block's traffic costs beside it. With events at a rate r and a clock f, a second has
// f quiet_toggles + r event_toggles.
struct SwitchingFigures {
  blocks::Event event = blocks::Event::clock;
  double event_toggles = 0;
  double quiet_toggles = 0;  // in a clock, nothing happening
  double event_ram_accesses = 0;
  double quiet_ram_accesses = 0;  // in a clock
};

// A routine on a core class.
struct FirmwareFigures {
  blocks::Event event = blocks::Event::given;
  std::string method;
  std::vector<std::string> peripherals;  // that the method needs
  bool polls = false;                    // watches the line all the time
  firmware::RoutineCost cost;            // cycles: mean of the natural mix
  firmware::CostRange worst_cycles;      // longest event met
  double batch =
      1;  // events that one activation works off (a half filled by direct memory access, a byte of bits)
  // Most cycles of 1, 2, .. consecutive activations, for each event of them; empty: each may be the longest.
  std::vector<firmware::CostRange> consecutive_cycles = {};
};

class BlockLibrary {
 public:
  explicit BlockLibrary(const std::map<std::string, firmware::Core>& cores);
  ~BlockLibrary();

  // A block without logic gives zero counts.
  const LogicFigures& logic(const BlockUse& use, const FabricTraits& traits);
  // Of its memories, without covering it; 0 where its counts are given.
  unsigned ram_blocks(const BlockUse& use, const FabricTraits& traits);
  // Simulated only when asked for: what is too large for a part never is.
  const SwitchingFigures& switching(const BlockUse& use, const FabricTraits& traits);
  // One entry for each method of the kind, in its order; empty where the block has no routine.
  // Throws std::out_of_range for an unknown core class.
  const std::vector<FirmwareFigures>& firmware(const BlockUse& use, std::string_view core);

  struct Wanted {
    BlockUse use;
    std::vector<FabricTraits> fabrics;
    std::vector<std::string> cores;
  };
  void prepare(const std::vector<Wanted>& wanted, unsigned threads);

 private:
  struct Kept;
  std::unique_ptr<Kept> kept_;
};

}  // namespace portweigh::options

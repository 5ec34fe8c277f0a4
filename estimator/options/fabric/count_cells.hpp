// Cells, RAM and clock of the fabric: the sum of the covered blocks, with the spread that independent
// designers show, against what the part holds and how fast it is.
//
//   cells = sum over blocks (cells of the cover x spread of the block's class)
//   path  = clock-to-output + levels (LUT + routing) + longest carry x carry delay + set-up
// Tested by tests/options/search/consider_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "options/firmware/place_blocks.hpp"

namespace portweigh::options {

struct FabricBlock {
  std::string name;
  BlockUse use;
  const LogicFigures* figures = nullptr;
  bool runs_on_processor_clock = false;  // the soft processor
};

struct Cells {
  std::vector<FabricBlock> blocks;          // in the order of the function, then what the option added
  std::optional<figures::Figure> clock_hz;  // none: no fabric
};

OrShortfall<Cells> count_cells(Draft& draft, const Placed& placed);

// The ledger input that says how far independent designs lie from the estimate.
figures::Figure spread_of(Draft& draft, const blocks::Kind& kind);

// Cells and RAM blocks of a fabric.
struct Room {
  double cells = 0;
  unsigned ram_blocks = 0;

  Room& operator+=(const Room& other);
};

Room room_of(const parts::ProgrammableLogic& part, const LogicFigures& figures);

// Cells that may be filled: a double, or a figure.
template <class Number>
Number usable_cells(Number cells, Number fill_limit, Number reserve) {
  return cells * fill_limit * (1.0 - reserve);
}
double usable_cells(const parts::ProgrammableLogic& part, const study::Study& study);  // typical

}  // namespace portweigh::options

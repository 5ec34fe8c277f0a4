// The blocks on an option's fabric with their counts, as capacity, clock and power need them.
#pragma once

#include <string>
#include <vector>

#include "options/draft.hpp"

namespace portweigh::options {

struct FabricBlock {
  std::string name;
  BlockUse use;
  const LogicFigures* figures = nullptr;
  bool runs_on_processor_clock = false;  // the soft processor
};

// In the order of the function, then what the option added (soft processor, links).
std::vector<FabricBlock> fabric_blocks(Draft& draft);

// The ledger input that says how far independent designs lie from the estimate.
figures::Figure spread_of(Draft& draft, const blocks::Kind& kind);

unsigned ram_blocks_of(const parts::ProgrammableLogic& part, const LogicFigures& figures);

}  // namespace portweigh::options

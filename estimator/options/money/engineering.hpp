// Engineering effort of an option: what it takes to make its blocks, once.
//
//   logic     LUTs x design time a LUT / (1 - share of verification)
//   firmware  COCOMO for all firmware of an engine, shared among its blocks by code bytes
//   around them: drivers of a microcontroller, power management of each chip that is programmed, where it is updated in
//   the field the update path (a microcontroller's boot loader by COCOMO among it), production test
//   fixed function: configuration;  each new main part: approval;  integration: once, and for each further
//   engine
// A block that the company has already (reuse in the study) counts with the share of its effort that is left.
// Time: development_time follows from the whole effort and the team (firmware_effort.hpp).
// Tested by tests/options/money/engineering_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "options/fabric/count_cells.hpp"

namespace portweigh::options {

// Engineering of one block on its engine, or of the option as a whole (no block, no group).
struct EffortItem {
  std::string what;            // "crc-receive", "integration"
  std::string revision_group;  // of the block; empty: no revision touches it
  std::string shared_key;      // products that take the same item share it: "logic/crc-receive"; empty: own
  figures::Figure once;        // s of work for this study, less where the company has the block already
  figures::Figure anew;        // s of work to make it from nothing, of which a revision costs a share
};

struct Engineering {
  std::vector<EffortItem> items;  // all together are the engineering of the one-time cost
  figures::Figure total;          // s of work
};

Engineering add_engineering(Draft& draft, const Placed& placed, const Cells& cells);

}  // namespace portweigh::options

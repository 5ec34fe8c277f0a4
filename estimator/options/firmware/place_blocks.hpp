// Placing: does every engine offer what its blocks need, and does the firmware meet its deadlines and fit?
//
// Tested by tests/options/search/consider_test.cpp.
#pragma once

#include "options/draft.hpp"
#include "options/firmware/link.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {

// The firmware of one processor of the option.
struct Firmware {
  EngineKind engine = EngineKind::microcontroller;  // or soft_processor, host
  std::string core;                                 // its class, as shared items and groups call it
  Schedule schedule;
  std::size_t operating_point = 0;  // of a microcontroller, as of operating_point.hpp
  std::string clock_choice = "the only clock setting at which every deadline holds";
};

struct Placed {
  std::optional<Link> link;            // where blocks are on two chips, or in the host
  std::vector<Firmware> firmware;      // microcontroller, soft processor, host
  std::vector<BlockUse> added_blocks;  // soft processor and links, on the fabric

  const Firmware* firmware_on(EngineKind engine) const;  // null: it runs none
};

OrShortfall<Placed> place_blocks(Draft& draft);

// What a link asks of the processor at its end.
LinkTask task_of(const Link& link);

}  // namespace portweigh::options

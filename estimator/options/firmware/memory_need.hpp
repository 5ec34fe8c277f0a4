// The memory that the firmware of a schedule takes, with start-up code and main loop.
//
// Tested by tests/options/fabric/soft_processor_test.cpp.
#pragma once

#include "figures/ledger/ledger.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {

struct MemoryNeed {
  figures::Range flash_bytes;  // code and constants
  double ram_bytes = 0;        // variables and stack
};

MemoryNeed memory_need(const Schedule& schedule);

}  // namespace portweigh::options

// The soft processor that a fabric may carry beside the blocks: which one, and the memory that its program
// takes.
//
// Memory is made of blocks of the fabric, so it comes in steps of 1024 bytes of program and 512 of data, not
// in powers of two. Tested by tests/options/fabric/soft_processor_test.cpp.
#pragma once

#include "options/fabric/block_library.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {

// 32 bits, one instruction after the other, memories of usual size.
BlockUse usual_soft_processor();

// The same with memories that hold what a schedule's routines need.
BlockUse sized_soft_processor(const BlockUse& processor, const MemoryNeed& need);

}  // namespace portweigh::options

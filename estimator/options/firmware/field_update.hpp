// Which chips follow a revision in products that are in use: those keep a boot loader and need a way for the image.
//
// Tested by tests/options/firmware/field_update_test.cpp.
#pragma once

#include "options/candidate.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {

// Whether a revision touches a block on the chip and reaches products in use without them coming back.
bool is_updated_in_field(const Context& context, const Candidate& candidate, const Chip& chip);

// The need with a boot loader beside the firmware, where products in use can renew it.
MemoryNeed with_boot_loader(const Context& context, const Candidate& candidate, const Chip& chip,
                            MemoryNeed need);

}  // namespace portweigh::options

// What firmware takes of a microcontroller's memories, and whether it fits.
//
//   flash_needed = image, or where products in use are updated boot loader and images in whole pages (field_update.hpp)
//   flash_use    = flash_needed / (flash (1 - reserve));   ram_use likewise
// The search of splits asks check_memory what the ledger says of an option, so that it finds none that doesn't fit.
// Tested by tests/options/firmware/memory_test.cpp.
#pragma once

#include "options/draft.hpp"
#include "options/firmware/schedule.hpp"

namespace portweigh::options {

// With everything typical; `chip` is a microcontroller. What is short, or nothing.
Impossible check_memory(const Context& context, const Candidate& candidate, const Chip& chip,
                        const MemoryNeed& need);

// Names counts.flash (the image), flash_needed, flash_use, counts.ram and ram_use, and sets their limits.
void name_memory(Draft& draft, const Chip& chip, const MemoryNeed& need);

}  // namespace portweigh::options

// Tidying of a finished cover, where LUTs rather than gates are seen.
//
//  - inputs a LUT's function doesn't depend on are dropped; constant and one-input LUTs are looked through;
//    LUTs of equal function and inputs become one
//  - a LUT with one reader is merged into that reader where the inputs fit
//  - LUTs nothing reads are removed
//  - roots that read a LUT complemented get it complemented; where both senses are needed, or a root reads a
//    source complemented, an inverter LUT is added. Enables, resets and carry operands take either sense.
//
// Tested by tests/logic/cover/cover_test.cpp.
#pragma once

#include "logic/cover/cover.hpp"

namespace portweigh::logic {

Cover polished(const Cover& cover);

}  // namespace portweigh::logic

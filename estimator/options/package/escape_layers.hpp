// How many layers a board needs so that the pins in use can leave a package.
//
// Leads along the edges need one layer. An array of n x n leads has rings of 4 (n - 1 - 2 k) leads, k = 0 at
// the edge; its usable pins are spread over all leads alike, so that r rings hold usable x (leads of r rings)
// / n^2. The outer rings are used first. A signal layer leads out one ring, or two where a trace passes
// between two leads (pitch of 0.65 mm or more), and has a plane beside it:
//   layers = 2 ceil(rings / rings in a layer)
// Worked example: 9 x 9 leads at 0.4 mm, 62 of the 81 usable: ring 0 has 32 leads and 24.5 usable pins, so 23
// pins need 2 layers and 30 pins need 4. A package whose catalog entry says `layers` needs these instead.
// Common practice in the layout of such boards. Tested by tests/options/package/escape_layers_test.cpp.
#pragma once

#include "parts/part.hpp"

namespace portweigh::options {

unsigned escape_layers(const parts::Package& package, unsigned pins);

}  // namespace portweigh::options

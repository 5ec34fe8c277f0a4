// Pins and package: what leaves each chip, and which body offers enough pins and can be assembled.
//
// Tested by tests/options/search/consider_test.cpp.
#pragma once

#include "options/firmware/place_blocks.hpp"

namespace portweigh::options {

struct Packaged {
  std::vector<Chip> chips;    // the candidate's, with their packages
  figures::Figure lead_time;  // the longest
};

OrShortfall<Packaged> choose_packages(Draft& draft, const Placed& placed);

// Pins in use on each chip of the candidate: of its blocks and of the link; on one of them also what the
// product wants for its own use. `link` may be null.
std::vector<unsigned> pins_of_chips(const Context& context, const Candidate& candidate, const Link* link);

// Of the packages that the product's assembly can take; 0: of none.
unsigned most_usable_pins(const parts::Part& part, const study::Assembly& assembly);

}  // namespace portweigh::options

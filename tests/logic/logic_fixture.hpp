// What the tests of covering and packing share: proof by simulation that a cover computes its network.
#pragma once

#include <cstdint>
#include <span>
#include <string>

#include "logic/cover/cover.hpp"
#include "logic/network/network.hpp"

namespace portweigh::logic {


// Simulates `clocks` clocks of 64 random streams and compares every root of the cover with the network:
// outputs, the register's value after the clock, memory roots. Returns the first difference, or "".
std::string difference(const Network& network, const Cover& cover, unsigned clocks = 40);

// Most LUT inputs, or a broken reference; "" if the cover is well formed.
std::string malformation(const Cover& cover);

struct ReferenceCover {
  std::size_t luts = 0;
  std::size_t levels = 0;
};
// What berkeley-abc makes of the network with `commands` (an AIGER file is read first).
// Throws std::runtime_error where it gives none, as where it isn't installed.
ReferenceCover reference_cover(const Network& network, const std::string& commands);

}  // namespace portweigh::logic

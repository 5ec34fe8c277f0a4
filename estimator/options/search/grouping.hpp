// Blocks that cannot sensibly be apart, so that the search moves them together.
//
// Rule: blocks of one layer and one revision group stay together, for what the standard changes together is
// best kept in one engine; within the physical layer, line codes (events at the rate of edges) are apart from
// what works on symbols and bytes. A block that the study pins or forbids stands alone. The sink
// function of 20 blocks has 8 groups: front-end, line, framing, attachment, message, policy, host, pins.
// Tested by tests/options/search/grouping_test.cpp.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "study/study.hpp"

namespace portweigh::options {

struct BlockGroup {
  std::string name;                 // unique among the groups
  std::vector<std::size_t> blocks;  // numbers in the function, rising
  study::Layer layer = study::Layer::physical;
  bool is_line_code = false;
};

// In the order of their first blocks.
std::vector<BlockGroup> group_blocks(const study::Study& study);

}  // namespace portweigh::options

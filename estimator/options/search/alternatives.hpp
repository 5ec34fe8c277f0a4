// What a reviewer asks next: the next part up and down the family, and why not it.
//
// For each option on one chip a note for each neighbour in its part's family, ordered by what it holds
// (cells, program memory, features): its unit cost and average power if it is an option too, or else the
// reason with the number that failed, which says what would make it fit. Tested by
// tests/options/search/alternatives_test.cpp.
#pragma once

#include "options/context.hpp"
#include "options/search/consider.hpp"

namespace portweigh::options {

void note_alternatives(const Context& context, Considered& considered);

}  // namespace portweigh::options

// All options of a study: every candidate realised, or rejected with its reason.
//
// Tested by tests/options/search/consider_test.cpp.
#pragma once

#include <vector>

#include "options/option.hpp"

namespace portweigh::options {

// An option with its microcontroller or soft processor at another clock or core voltage.
struct OtherSetting {
  std::size_t option = 0;  // number of the option it is another setting of
  Option realised;
};

struct Considered {
  std::vector<Option> options;
  std::vector<Rejection> rejections;
  std::vector<OtherSetting> other_settings;  // in the order of the options
};

// Realises every candidate with `threads` threads; the order is that of the candidates. Throws
// reading::InputError for a part without a price at the study's volume.
Considered consider(const Context& context, unsigned threads);

// The same with every other setting worth a comparison, and without notes: which one is best is for the ranking
// to say (decision/clock_settings.hpp).
Considered consider_settings(const Context& context, unsigned threads);

// What a reviewer asks next: the next part up and down the family, and why not it. For each option on one
// chip a note for each neighbour in its part's family, ordered by what it holds (cells, program memory,
// features): its unit cost and average power if it is an option too, or else the reason with the number that
// failed, which says what would make it fit. Tested by tests/options/search/alternatives_test.cpp.
void note_alternatives(const Context& context, Considered& considered);

}  // namespace portweigh::options

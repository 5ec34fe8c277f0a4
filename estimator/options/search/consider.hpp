// All options of a study: every candidate realised, or rejected with its reason.
//
// Tested by tests/options/search/consider_test.cpp.
#pragma once

#include <vector>

#include "options/option.hpp"

namespace portweigh::options {

struct Considered {
  std::vector<Option> options;
  std::vector<Rejection> rejections;
};

// Realises every candidate with `threads` threads; the order is that of the candidates. Throws
// reading::InputError for a part without a price at the study's volume.
Considered consider(const Context& context, unsigned threads);

}  // namespace portweigh::options

// What a study says about the assignment of blocks to engines: pinned, forbidden, and which options to list.
//
//   [assignment]
//   only = ["pl-flash-d+soft"]                                  # ids of options; absent: all
//   pin = [{ block = "policy", engine = "host" }]             # this block goes there and nowhere else
//   forbid = [{ block = "line-decode", engine = "microcontroller" }]
// Tested by tests/study/assignment_reader_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "figures/ledger/source.hpp"

namespace portweigh::study {

// Names of engines as a study writes them.
inline constexpr const char* engine_names[] = {"fabric",         "soft-processor", "microcontroller",
                                               "fixed-function", "host",           "external"};

struct Placement {
  std::string block;
  std::string engine;  // one of engine_names
  figures::Source source;
};

struct Assignment {
  std::vector<Placement> pinned;
  std::vector<Placement> forbidden;
  std::vector<std::string> only_options;  // empty: all
};

// What the processor does between two events while bits are on the line.
enum class WhileLineBusy { awake, asleep };

}  // namespace portweigh::study

// The ranked options for a terminal: a table of 80 columns, margins, dominated and rejected options,
// cautions.
//
// Tested by tests/project/printed_text_test.cpp.
#pragma once

#include <string>

#include "report/saved/run.hpp"
#include "report/terminal/colour.hpp"

namespace portweigh::report {

enum class Detail { best, all };  // all: dominated options in the table, every rejection

std::string rank_text(const Run& run, Detail detail, Colour colour = Colour::off);

}  // namespace portweigh::report

// Reads the command line and runs the verb it names.
//
// Exit codes: 0 done; 1 the study ran but no option meets every hard budget (only with --require-fit); 2 bad
// input or usage; 3 cannot read or write; 4 a fault of the program itself. Messages go to `errors`, results to `out`.
#pragma once

#include <iosfwd>

namespace portweigh::cli {

// Which of the streams are terminals: there results are in colour (not with NO_COLOR, see no-color.org), and
// work of more than a second shows that it goes on.
struct Terminals {
  bool out = false;
  bool errors = false;
};

int run(int argument_count, const char* const* arguments, std::ostream& out, std::ostream& errors,
        Terminals terminals = {});

}  // namespace portweigh::cli

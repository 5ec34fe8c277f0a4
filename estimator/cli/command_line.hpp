// Reads the command line and runs the verb it names.
//
// Exit codes: 0 done; 1 the study ran but no option meets every hard budget (only with --require-fit); 2 bad
// input or usage; 3 cannot read or write. Messages go to `errors`, results to `out`.
#pragma once

#include <iosfwd>

namespace portweigh::cli {

int run(int argument_count, const char* const* arguments, std::ostream& out, std::ostream& errors);

}  // namespace portweigh::cli

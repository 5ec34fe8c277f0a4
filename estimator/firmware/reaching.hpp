// Which assignment a use of a variable sees. Two uses in the code generator model: the accumulator's compiler
// keeps a variable in memory where several assignments meet, and compilers of memory-operand cores test
// an element of a small table by its index, also through the variable that holds it.
// Example: x = 1; if (c) { x = 2; } y = x: the last use is merged. Tested by reaching_test.cpp.
#pragma once

#include <vector>

#include "firmware/program.hpp"

namespace portweigh::firmware {

struct Reaching {
  // By variable: some use may see several assignments. Counters of counted loops are not among them.
  std::vector<bool> merged;
  // By node that uses a variable: its one assignment; `none` if there is none or are several. A loop that
  // assigns elements of the same table as before it counts as one assignment.
  std::vector<StatementId> definition;
};

Reaching find_reaching(const Program& program);

}  // namespace portweigh::firmware

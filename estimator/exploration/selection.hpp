// The options that an exploration is restricted to.
//
// Where two options far apart are compared, those in between would hide where one overtakes the other.
// Tested by tests/exploration/selection_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "options/option.hpp"

namespace portweigh::exploration {

// The options with these ids, in their own order; all of them where no id is given. Ids that none has are
// passed over: an option may be buildable at one value of an input and not at another.
std::vector<options::Option> select_options(std::vector<options::Option> options,
                                            const std::vector<std::string>& ids);

}  // namespace portweigh::exploration

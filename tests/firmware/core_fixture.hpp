// Reads catalog/cores/NAME.toml as the program does, for tests of this folder. reading::InputError tells
// what is missing or unknown.
#pragma once

#include <string>
#include <vector>

#include "firmware/core.hpp"

namespace portweigh::firmware {

Core read_core(const std::string& name);

// The classes the default catalog always has.
std::vector<std::string> catalog_core_names();

}  // namespace portweigh::firmware

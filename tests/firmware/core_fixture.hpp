// Reads catalog/cores/NAME.toml for tests of this folder, which cannot use the reader of a higher floor.
// Throws std::runtime_error naming what is missing or unknown.
#pragma once

#include <string>
#include <vector>

#include "firmware/core.hpp"

namespace portweigh::firmware {

Core read_core(const std::string& name);

// The classes the default catalog always has.
std::vector<std::string> catalog_core_names();

}  // namespace portweigh::firmware

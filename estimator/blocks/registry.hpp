// Every kind of block, in the order of the reference page.
//
// Tested by tests/blocks/registry_test.cpp: every kind runs with its defaults.
#pragma once

#include <span>
#include <string_view>

#include "blocks/kind.hpp"

namespace portweigh::blocks {

std::span<const Kind> kinds();

// The kinds that options add by themselves.
const Kind& host_interface();
const Kind& register_bank();
const Kind& soft_processor();

// Throws SettingError where "method" names a way that the kind does not have with its other settings, such as
// per-edge for an encoder.
void check_method(const Kind& kind, const Settings& settings);

// Throws SettingError with the nearest valid name where there is no such kind.
const Kind& find_kind(std::string_view name);

}  // namespace portweigh::blocks

// Every kind of block with its settings, defaults and ranges.
//
// Tested by tests/project/printed_text_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>

#include "blocks/kind.hpp"

namespace portweigh::report {

std::string block_list_text(std::span<const blocks::Kind> kinds);
nlohmann::ordered_json block_list_json(std::span<const blocks::Kind> kinds);

}  // namespace portweigh::report

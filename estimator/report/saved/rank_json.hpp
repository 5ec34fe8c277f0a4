// The ranked options as JSON, in the shape of docs/interface.md: SI values, money in the study's currency.
//
// Tested by tests/project/command_line_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/saved/run.hpp"

namespace portweigh::report {

nlohmann::ordered_json rank_json(const Run& run);

}  // namespace portweigh::report

// A calibration as text with lines for the catalog's files, and as JSON.
//
// Ranges are rounded outwards to 0.05 (LUTs) or 0.01 (compiler factors), as those of the catalog. Tested by
// tests/report/terminal/calibration_text_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "exploration/calibration.hpp"

namespace portweigh::report {

// `name` of the measured file, for the source lines.
std::string calibration_text(const exploration::Calibration& calibration, const std::string& name);
nlohmann::ordered_json calibration_json(const exploration::Calibration& calibration);

}  // namespace portweigh::report

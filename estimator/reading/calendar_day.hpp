// Days of the calendar as they stand in files: ISO 8601, "2025-01-31".
//
// Tested by tests/reading/calendar_day_test.cpp.
#pragma once

#include <chrono>
#include <optional>
#include <string>

namespace portweigh::reading {

// Nothing if the text is not exactly a day that exists.
[[nodiscard]] std::optional<std::chrono::sys_days> parse_day(const std::string& text);

}  // namespace portweigh::reading

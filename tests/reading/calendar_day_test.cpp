// Days that exist, and texts that look like days.
#include "reading/calendar_day.hpp"

#include <catch2/catch.hpp>

namespace portweigh::reading {
namespace {

TEST_CASE("days of the calendar are read, leap days included") {
  REQUIRE(parse_day("2025-01-31").has_value());
  CHECK((*parse_day("2024-03-01") - *parse_day("2024-02-28")).count() == 2);
  CHECK((*parse_day("2025-03-01") - *parse_day("2025-02-28")).count() == 1);
}

TEST_CASE("what is not a day is refused") {
  for (const char* text : {"", "2025-02-30", "2025-13-01", "2025-1-31", "31.01.2025", "2025-01-31T",
                           "yesterday", "2025-01-3x", "2025-00-10"}) {
    INFO(text);
    CHECK_FALSE(parse_day(text).has_value());
  }
}

}  // namespace
}  // namespace portweigh::reading

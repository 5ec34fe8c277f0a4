#include "reading/calendar_day.hpp"

#include <cstdio>

namespace portweigh::reading {

std::optional<std::chrono::sys_days> parse_day(const std::string& text) {
  int year = 0;
  unsigned month = 0;
  unsigned day = 0;
  int length = 0;
  constexpr std::size_t iso_length = 10;
  if (text.size() != iso_length) return std::nullopt;
  if (std::sscanf(text.c_str(), "%4d-%2u-%2u%n", &year, &month, &day, &length) != 3) return std::nullopt;
  if (static_cast<std::size_t>(length) != iso_length) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{month},
                                         std::chrono::day{day}};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days{date};
}

}  // namespace portweigh::reading

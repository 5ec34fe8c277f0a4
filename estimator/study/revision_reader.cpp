// Revisions of the standard: with a chance in each year, or on a date of a roadmap.
#include <fmt/core.h>

#include "reading/calendar_day.hpp"
#include "study/study_reader.hpp"

namespace portweigh::study {

using namespace reading;

const Fields<Revision>& revision_fields() {
  using R = Revision;
  const auto share = QuantityRule(figures::dimensions::dimensionless).between(0, 1);
  static const Fields<Revision> fields = {
      text("name", &R::name, "unique in the study", Pattern::identifier),
      range("chance_per_year", &R::chance_per_year, share, "1", "chance that it comes in a year; or a date")
          .as_input("{}: chance a year", "", "chance"),
      text("date", &R::date, "day on which it comes into force, such as 2028-01-31", Pattern::any,
           Presence::optional),
      range("chance", &R::chance, share, "1", "chance that the dated revision comes; absent: 1",
            Presence::optional)
          .as_input("{}: chance that it comes"),
      words("touches", &R::touches, "revision groups of the function's blocks"),
      flag("needs_certification", &R::needs_certification,
           "the port is certified again after it; absent: true", Presence::optional),
      remembered_source(&R::source)};
  return fields;
}

namespace {

constexpr double day_in_years = 1 / 365.25;

void read_date(TableReader& reader, Revision& revision, const std::optional<std::chrono::sys_days>& start) {
  const bool has_chance = reader.has("chance_per_year");
  const bool has_date = reader.has("date");
  if (has_chance && has_date) {
    reader.report("date", "a date and a chance_per_year, expected one of them");
    return;
  }
  if (!has_chance && !has_date) {
    reader.report("neither chance_per_year nor date, expected one of them");
    return;
  }
  if (!has_date) {
    if (reader.has("chance")) {
      reader.report("chance", "chance of a revision without a date, expected chance_per_year");
    }
    return;
  }
  if (!reader.has("chance")) {
    revision.chance = {figures::exactly(1), figures::parse_unit("1"), reader.source_of("date")};
  }
  if (revision.date.empty()) return;
  const auto day = parse_day(revision.date);
  if (!day) {
    reader.report("date",
                  fmt::format("\"{}\" is not a day, expected a date such as \"2025-01-31\"", revision.date));
    return;
  }
  if (!start) return;
  if (*day < *start) {
    reader.report("date", fmt::format("{} is before production_start, expected a later day", revision.date));
  }
  revision.years_after_start = static_cast<double>((*day - *start).count()) * day_in_years;
}

}  // namespace

void read_dates(TableReader& root, Study& study) {
  std::optional<std::chrono::sys_days> start;
  if (!study.production_start.empty()) {
    start = parse_day(study.production_start);
    if (!start) {
      root.report(
          "production_start",
          fmt::format("\"{}\" is not a day, expected a date such as \"2025-01-31\"", study.production_start));
    }
  }
  auto readers = root.optional_tables("revision");
  bool has_date = false;
  for (std::size_t i = 0; i < std::min(readers.size(), study.revisions.size()); ++i) {
    read_date(readers[i], study.revisions[i], start);
    has_date = has_date || readers[i].has("date");
  }
  if (has_date && !root.has("production_start")) {
    root.report("a revision has a date, expected production_start = \"2026-07-01\" or another day");
  }
}

}  // namespace portweigh::study

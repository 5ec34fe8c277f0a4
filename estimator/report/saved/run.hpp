// Everything a report needs of one run: the study, its options, the ranking, and what goes with them.
#pragma once

#include "decision/clock_settings.hpp"
#include "decision/ranking.hpp"
#include "options/search/consider.hpp"
#include "report/notices.hpp"
#include "report/places.hpp"

namespace portweigh::report {

struct Run {
  study::Study study;
  options::Considered considered;
  std::vector<decision::SettingSummary> other_settings;  // of the options' processors
  decision::Ranking ranking;
  Notices notices;
  Places places;

  // Of one option, best first.
  std::vector<decision::SettingSummary> other_settings_of(const std::string& id) const;
};

}  // namespace portweigh::report

// Everything a report needs of one run: the study, its options, the ranking.
#pragma once

#include <vector>

#include "decision/ranking.hpp"
#include "options/consider.hpp"

namespace portweigh::report {

struct Run {
  study::Study study;
  options::Considered considered;
  decision::Ranking ranking;
};

// The usual cautions, one sentence each; every report carries them.
const std::vector<std::string>& cautions();

}  // namespace portweigh::report

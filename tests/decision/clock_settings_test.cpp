#include "decision/clock_settings.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "parts/catalog.hpp"
#include "parts/effort.hpp"
#include "study/study.hpp"

using namespace portweigh;
using namespace portweigh::decision;

namespace {

constexpr Sampling sampling{1024, 1, 2};

struct Bench {
  parts::Catalog catalog = parts::read_catalog(PORTWEIGH_CATALOG_DIR);
  parts::Effort effort = parts::read_effort(std::string(PORTWEIGH_CATALOG_DIR) + "/effort.toml");
  study::Study study =
      study::read_study(std::string(PORTWEIGH_STUDIES_DIR) + "/flow-meter.toml", PORTWEIGH_CATALOG_DIR);
  options::BlockLibrary library{catalog.cores};

  Bench() {
    // Logic takes no part in this: the microcontrollers, and fixed functions beside them.
    catalog.programmable_logic.clear();
  }
};

Bench& bench() {
  static Bench made;
  return made;
}

struct Standing {
  bool meets = false;
  double sure = 0;
  double score = 0;
  double excess = 0;
};

using Standings = std::map<std::string, Standing>;

Standings standings_with(const parts::Catalog& catalog) {
  auto considered = options::consider_settings({catalog, bench().effort, bench().study, bench().library}, 2);
  take_best_settings(considered, bench().study, sampling);
  CHECK(considered.other_settings.empty());
  Standings found;
  for (const RankedOption& ranked : in_order(considered.options, bench().study, sampling)) {
    found[considered.options[ranked.option].id] = {ranked.meets_budgets, ranked.probability_meets_budgets,
                                                   ranked.weighted_margin, ranked.worst_excess};
  }
  return found;
}

// What pruning takes for sure may move a share by a percent. Another set of inputs means other samples, of options
// that didn't change as well: twice the standard error of the difference of two shares.
double noise_of(double share) {
  return 0.01 + 2 * std::sqrt(2 * share * (1 - share) / sampling.samples);
}

// By the ranking's rule.
bool is_improved(const Standing& before, const Standing& after) {
  if (before.meets != after.meets) return after.meets;
  if (std::abs(after.sure - before.sure) > 0.005) return after.sure > before.sure + noise_of(before.sure);
  if (!before.meets && after.excess != before.excess) return after.excess < before.excess;
  return after.score > before.score + 1e-9;
}

std::size_t count_improved(const Standings& before, const Standings& after, const std::string& what) {
  std::size_t improved = 0;
  for (const auto& [id, standing] : after) {
    const auto known = before.find(id);
    if (known == before.end() || !is_improved(known->second, standing)) continue;
    UNSCOPED_INFO(what << " improves " << id << ": sure " << known->second.sure << " -> " << standing.sure
                       << ", score " << known->second.score << " -> " << standing.score);
    ++improved;
  }
  return improved;
}

}  // namespace

TEST_CASE("Taking a clock or an operating point out of the catalog improves no option") {
  const Standings before = standings_with(bench().catalog);
  for (std::size_t i = 0; i < bench().catalog.microcontrollers.size(); ++i) {
    const parts::Microcontroller& part = bench().catalog.microcontrollers[i];
    for (std::size_t c = 0; part.clocks.size() > 1 && c < part.clocks.size(); ++c) {
      parts::Catalog catalog = bench().catalog;
      auto& clocks = catalog.microcontrollers[i].clocks;
      clocks.erase(clocks.begin() + static_cast<std::ptrdiff_t>(c));
      CHECK(count_improved(before, standings_with(catalog), part.part.id + " without a clock") == 0);
    }
    for (std::size_t p = 0; p < part.operating_points.size(); ++p) {
      parts::Catalog catalog = bench().catalog;
      auto& points = catalog.microcontrollers[i].operating_points;
      points.erase(points.begin() + static_cast<std::ptrdiff_t>(p));
      CHECK(count_improved(before, standings_with(catalog), part.part.id + " without a voltage") == 0);
    }
  }
}

TEST_CASE("The option is the best of its settings, and the others are told in order") {
  const options::Context context{bench().catalog, bench().effort, bench().study, bench().library};
  auto considered = options::consider_settings(context, 2);
  REQUIRE_FALSE(considered.other_settings.empty());
  const std::size_t count = considered.other_settings.size();
  const auto others = take_best_settings(considered, bench().study, sampling);
  CHECK(others.size() == count);
  std::map<std::string, RankedOption> taken;
  for (const RankedOption& ranked : in_order(considered.options, bench().study, sampling)) {
    taken[considered.options[ranked.option].id] = ranked;
  }
  std::size_t traded = 0;
  for (const SettingSummary& other : others) {
    INFO(other.option << " at " << other.setting);
    const RankedOption& best = taken.at(other.option);
    if (best.meets_budgets) {
      CHECK(other.probability_meets_budgets <= best.probability_meets_budgets + 0.015);
    }
    if (other.average_w < best.figures.at("average_power").value) ++traded;
  }
  // Somewhere less power was there for less sureness.
  CHECK(traded > 0);
}

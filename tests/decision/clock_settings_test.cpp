#include "decision/clock_settings.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "options/family/family.hpp"
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
};

Bench& bench() {
  static Bench made;
  return made;
}

template <class Parts>
Parts only(const Parts& all, const std::vector<std::string>& ids) {
  Parts some;
  std::copy_if(all.begin(), all.end(), std::back_inserter(some), [&](const auto& part) {
    return std::find(ids.begin(), ids.end(), part.part.id) != ids.end();
  });
  return some;
}

// The microcontrollers, and fixed functions beside them.
parts::Catalog without_logic() {
  parts::Catalog catalog = bench().catalog;
  catalog.programmable_logic.clear();
  return catalog;
}

// Logic with soft processors, with the host, and beside a microcontroller of several voltages.
parts::Catalog logic_and_one_beside() {
  parts::Catalog catalog = bench().catalog;
  catalog.programmable_logic = only(catalog.programmable_logic, {"pl-flash-b", "pl-flash-d", "pl-sram-c"});
  catalog.microcontrollers = only(catalog.microcontrollers, {"mcu-32b-mid"});
  catalog.fixed_functions.clear();
  return catalog;
}

// The same with oscillators that can be divided for clocks up to `highest_hz` only, so that one clock or none holds
// even with the high cycles.
parts::Catalog with_slow_soft_processors(double highest_hz) {
  parts::Catalog catalog = logic_and_one_beside();
  catalog.microcontrollers.clear();
  for (parts::ProgrammableLogic& part : catalog.programmable_logic) {
    std::erase_if(part.oscillator_dividers, [&](double divider) {
      return part.oscillator_frequency->range.typical / divider > highest_hz;
    });
  }
  return catalog;
}

// Without its hard budgets the limits of the options themselves decide, deadlines among them.
study::Study with_wishes_only() {
  study::Study study = bench().study;
  for (study::Budget& budget : study.budgets) budget.strength = study::Strength::wish;
  return study;
}

struct Standing {
  bool meets = false;
  double sure = 0;
  double score = 0;
  double excess = 0;
};

using Standings = std::map<std::string, Standing>;

Standings standings_with(const parts::Catalog& catalog, const study::Study& study) {
  auto considered = options::consider_settings({catalog, bench().effort, study, bench().library}, 2);
  take_best_settings(considered, study, sampling);
  CHECK(considered.other_settings.empty());
  Standings found;
  for (const RankedOption& ranked : in_order(considered.options, study, sampling)) {
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

// Each element of a list of some part out in turn. `list(catalog)` finds it in a copy.
template <class List>
void check_each_out(const parts::Catalog& all, const study::Study& study, const Standings& before,
                    const std::string& what, const List& list) {
  parts::Catalog catalog = all;
  const std::size_t count = list(catalog).size();
  for (std::size_t i = 0; i < count; ++i) {
    catalog = all;
    auto& values = list(catalog);
    values.erase(values.begin() + static_cast<std::ptrdiff_t>(i));
    CHECK(count_improved(before, standings_with(catalog, study), what) == 0);
  }
}

void check_nothing_improves(const parts::Catalog& all, const study::Study& study) {
  const Standings before = standings_with(all, study);
  REQUIRE_FALSE(before.empty());
  for (std::size_t i = 0; i < all.microcontrollers.size(); ++i) {
    const parts::Microcontroller& part = all.microcontrollers[i];
    const auto clocks = [i](parts::Catalog & of) -> auto& {
      return of.microcontrollers[i].clocks;
    };
    const auto points = [i](parts::Catalog & of) -> auto& {
      return of.microcontrollers[i].operating_points;
    };
    if (part.clocks.size() > 1) {
      check_each_out(all, study, before, part.part.id + " without a clock", clocks);
    }
    check_each_out(all, study, before, part.part.id + " without a voltage", points);
  }
  for (std::size_t i = 0; i < all.programmable_logic.size(); ++i) {
    const auto dividers = [i](parts::Catalog & of) -> auto& {
      return of.programmable_logic[i].oscillator_dividers;
    };
    check_each_out(all, study, before, all.programmable_logic[i].part.id + " without a divider", dividers);
  }
}

bool has_soft_processor(const options::Option& option) {
  return option.ledger.find("soft_clock_rate").has_value();
}

}  // namespace

TEST_CASE("Taking a clock or an operating point out of the catalog improves no option") {
  check_nothing_improves(without_logic(), bench().study);
}

TEST_CASE("Nor does it improve one with logic: beside a microcontroller or with a soft processor") {
  check_nothing_improves(logic_and_one_beside(), bench().study);
  check_nothing_improves(logic_and_one_beside(), with_wishes_only());
}

TEST_CASE("Nor does it improve a soft processor of which hardly any clock is fast enough") {
  for (const double highest_hz : {10e6, 5e6}) {
    check_nothing_improves(with_slow_soft_processors(highest_hz), bench().study);
    check_nothing_improves(with_slow_soft_processors(highest_hz), with_wishes_only());
  }
}

TEST_CASE("A soft processor has the clocks of its oscillator to choose from, by their sureness") {
  const parts::Catalog catalog = logic_and_one_beside();
  const study::Study study = with_wishes_only();
  auto considered = options::consider_settings({catalog, bench().effort, study, bench().library}, 2);
  const auto others = take_best_settings(considered, study, sampling);
  std::size_t offered = 0;
  for (const RankedOption& taken : in_order(considered.options, study, sampling)) {
    const options::Option& option = considered.options[taken.option];
    if (!has_soft_processor(option)) continue;
    CHECK_FALSE(option.setting.empty());
    for (const SettingSummary& other : others) {
      if (other.option != option.id) continue;
      INFO(option.id << " at " << option.setting << ", not at " << other.setting);
      CHECK(other.setting != option.setting);
      CHECK(other.probability_meets_budgets <= taken.probability_meets_budgets + 0.015);
      ++offered;
    }
  }
  CHECK(offered > 0);
}

// The same study as a family of one: whatever is chosen is at the setting that the ranking lists it with.
TEST_CASE("A family's products are at the clocks that the ranking's rule takes") {
  const parts::Catalog catalog = without_logic();
  study::Study study = with_wishes_only();
  std::size_t differ = 0;
  for (const parts::Microcontroller& part : catalog.microcontrollers) {
    study.only_parts = {part.part.id};
    const options::Context context{catalog, bench().effort, study, bench().library};
    const auto considering = [&](const options::Context& of) { return consider_best_settings(of, sampling); };
    const auto family =
        options::choose_for_family(catalog, bench().effort, {"one", "", study.currency, {{"meter", study}}},
                                   bench().library, considering);
    const auto listed = considering(context);
    if (family.products.empty()) continue;
    REQUIRE(listed.options.size() == 1);
    CHECK(family.products.front().setting == listed.options.front().setting);
    const auto least_power = options::consider(context, 2);
    differ += least_power.options.front().setting != listed.options.front().setting ? 1U : 0U;
  }
  CHECK(differ > 0);
}

TEST_CASE("The option is the best of its settings, and the others are told in order") {
  const parts::Catalog catalog = without_logic();
  const options::Context context{catalog, bench().effort, bench().study, bench().library};
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

#include "report/document/analysis.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;

TEST_CASE("The best of each kind is shown, also where it misses a budget") {
  const Run run = tests::small_run();
  const Analysis analysis = analyse(run);
  std::vector<std::string> ids;
  for (const std::size_t place : shown_options(run, analysis)) {
    ids.push_back(run.considered.options[run.ranking.ranked[place].option].id);
  }
  CHECK(ids == std::vector<std::string>{"ff-alpha", "pl-gamma", "mc-beta"});
}

TEST_CASE("A flip tells where another option takes the lead") {
  // At 0.5 for its price alpha has the largest weighted margin: (1/5 + 2.25/3 + 3/5) / 3 = 0.517 against
  // gamma's 0.494.
  const Run run = tests::small_run({.alpha_price = 0.5});
  const Analysis analysis = analyse(run);
  CHECK(analysis.typical_leader == "ff-alpha");
  const auto& flips = analysis.sensitivity.flips;
  const auto found = std::find_if(flips.begin(), flips.end(), [](const NamedFlip& flip) {
    return flip.flip.input == "parts.ff-alpha.price";
  });
  REQUIRE(found != flips.end());
  CHECK(found->new_leader == "pl-gamma");
  // Level where (3 - 0.25 - p) / 3 = 3 * 0.49444 - 0.8, so p = 2.75 - 2.05.
  CHECK(found->flip.value == Approx(0.7).epsilon(1e-6));
}

TEST_CASE("Where the ranking puts a surer option before the one with the largest margin, both are shown") {
  const Run run = tests::small_run();
  const Analysis analysis = analyse(run);
  CHECK(run.considered.options[run.ranking.ranked.front().option].id == "ff-alpha");
  CHECK(analysis.typical_leader == "pl-gamma");
}

TEST_CASE("Without a clock of its own no option has a winner map") {
  CHECK(analyse(tests::small_run()).winner_map.leaders.empty());
  CHECK(analyse(tests::empty_run()).sensitivity.figures.empty());
}

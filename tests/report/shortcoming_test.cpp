#include "report/shortcoming.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;

namespace {

std::string shortcoming_of(const Run& run, const std::string& id) {
  for (const auto& ranked : run.ranking.ranked) {
    if (run.considered.options[ranked.option].id == id) return shortcoming(run, ranked);
  }
  FAIL("no option " << id);
  return "";
}

}  // namespace

TEST_CASE("A missed hard budget is told with by how much") {
  const Run run = tests::small_run();
  CHECK(shortcoming_of(run, "ff-alpha").empty());
  for (const auto& ranked : run.ranking.ranked) {
    const std::string why = shortcoming(run, ranked);
    INFO(run.considered.options[ranked.option].id << ": " << why);
    CHECK(why.empty() == (ranked.meets_budgets && !ranked.is_dominated));
  }
  CHECK(shortcoming_of(run, "mc-beta").find("active_power 6 mW is 1 mW over its limit of 5 mW") == 0);
}

TEST_CASE("A dominated option names the better one and the figure furthest behind") {
  // Were beta within its limits: its unit cost is 2.25 / 1.25 of alpha's, its power 6 / 4.
  Run run = tests::small_run();
  for (auto& ranked : run.ranking.ranked) {
    for (auto& budget : ranked.budgets) budget.meets = true;
  }
  CHECK(shortcoming_of(run, "mc-beta") ==
        "ff-alpha is no worse in every budget's figure; unit_cost is 1.25 USD there, 2.25 USD here");
}

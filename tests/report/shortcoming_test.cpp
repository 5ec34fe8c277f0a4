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

TEST_CASE("A wanted margin to a temperature is a share of its room above the ambient") {
  Run run = tests::small_run();
  run.study.ambient.range = figures::exactly(273.15 + 25);
  study::Budget budget;
  budget.figure = "junction_temperature";
  budget.limit_si = 273.15 + 85;
  budget.unit = figures::parse_unit("degC");
  budget.margin = 0.1;
  run.study.budgets = {budget};
  run.study.budgets[0].strength = study::Strength::hard;
  for (options::Option& option : run.considered.options) {
    option.ledger.name(option.ledger.constant(273.15 + 82, figures::dimensions::temperature, "test"),
                       "junction_temperature", "junction", figures::parse_unit("degC"));
  }
  run.ranking = decision::rank(run.considered.options, run.study, {64, 1, 1});
  // 79 degC are allowed.
  CHECK_THAT(shortcoming_of(run, "ff-alpha"),
             Catch::Matchers::Contains("is 3 K over its limit of 85 degC less 10 % margin"));
}

#include "report/document/document.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "figures/evaluation/evaluate.hpp"
#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;
using Catch::Matchers::Contains;
using portweigh::tests::small_run;

TEST_CASE("The recommendation says what, how sure and what would change it") {
  const Run run = small_run();
  const Document document = make_document(run);
  REQUIRE(document.recommendation.size() == 3);
  CHECK_THAT(document.recommendation[0], Contains("ff-alpha") && Contains("1.25 USD") && Contains("4 mW"));
  CHECK_THAT(document.recommendation[1], Contains("at least 99.4 % of 512 samples") &&
                                             Contains("The choice is open") &&
                                             Contains("pl-gamma is first oftener"));
  CHECK_THAT(document.recommendation[0], Contains("1.65 USD over life (5 % .. 95 %: 1.59 USD .. 1.79 USD)"));
  CHECK_THAT(document.recommendation[2], Contains("pl-gamma has the larger weighted margin"));
}

TEST_CASE("Where nothing fits, the nearest option and its miss are named") {
  const Run run = small_run({.cost_limit = 1.0});
  const Document document = make_document(run);
  CHECK_THAT(document.recommendation[0], Contains("No option meets every hard budget"));
  CHECK_THAT(document.recommendation[0], Contains("the limit of 1.00 USD on unit cost with 1.25 USD"));
}

TEST_CASE("Where nothing can be built, that is said and the reasons are grouped") {
  const Run run = tests::empty_run();
  const Document document = make_document(run);
  CHECK(document.recommendation.size() == 3);
  CHECK(document.shown.empty());
  REQUIRE(document.rejected.size() == 1);
  CHECK(document.rejected[0].ids == std::vector<std::string>{"pl-one", "pl-two"});
}

TEST_CASE("Shares of the cost add up to the cost of a unit over its life") {
  const Run run = small_run();
  for (const options::Option& option : run.considered.options) {
    const CostShares shares = cost_shares(option);
    const double sum = shares.parts + shares.making + shares.one_time + shares.change + shares.stock;
    CHECK(
        sum ==
        Approx(figures::evaluate(option.ledger, option.ledger.at("cost_per_unit_over_life"))).epsilon(1e-12));
    CHECK(shares.one_time == Approx(2000.0 / 5000.0));
  }
}

TEST_CASE("Contributors of a state add up to its power") {
  const Run run = small_run();
  const auto powers = state_powers(run.considered.options[0], run.study);
  REQUIRE(powers.size() == 1);
  CHECK(powers[0].total_w == Approx(4e-3));
  REQUIRE(powers[0].contributors.size() == 1);
  CHECK(powers[0].contributors[0].first == "core");
  CHECK(powers[0].contributors[0].second == Approx(4e-3));
}

TEST_CASE("The clocks of shown options stand with the one taken first, those of others not at all") {
  Run run = small_run();
  CHECK(settings_table(make_document(run)).rows.empty());
  run.considered.options[1].setting = "8 MHz";
  run.other_settings = {{"mc-beta", "4 MHz", true, 0.5, 3e-3, 3e-5},
                        {"mc-hidden", "1 MHz", true, 1, 1e-3, 1e-5}};
  const auto& ranked = run.ranking.ranked;
  const auto beta =
      std::find_if(ranked.begin(), ranked.end(), [](const auto& one) { return one.option == 1; });
  REQUIRE(beta != ranked.end());
  const std::string sure = fmt::format("{:.0f} %", 100 * beta->probability_meets_budgets);
  CHECK(settings_table(make_document(run)).rows ==
        std::vector<std::vector<std::string>>{{"mc-beta", "8 MHz", "yes", "6 mW", "60 uW", sure},
                                              {"mc-beta", "4 MHz", "no", "3 mW", "30 uW", "50 %"}});
}

TEST_CASE("Assumptions stand once each, with range, confidence and place") {
  const Run run = small_run();
  const Document document = make_document(run);
  const auto found = std::find_if(document.assumptions.begin(), document.assumptions.end(),
                                  [](const Assumption& one) { return one.key == "duty_cycle"; });
  REQUIRE(found != document.assumptions.end());
  CHECK(found->range == "0.005 .. 0.02");
  CHECK(found->confidence == "low: -50 .. +100 %");
  CHECK(found->place == "small.toml:3:1");
  CHECK(std::count_if(document.assumptions.begin(), document.assumptions.end(),
                      [](const Assumption& one) { return one.key == "duty_cycle"; }) == 1);
}

#include "report/certainty.hpp"

#include <catch2/catch.hpp>

#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;
using Catch::Matchers::Contains;

namespace {

decision::RankedOption option_with(double sure, double first) {
  decision::RankedOption option;
  option.meets_budgets = true;
  option.probability_meets_budgets = sure;
  option.first_rank_share = first;
  return option;
}

}  // namespace

TEST_CASE("The word for a choice follows its thresholds") {
  CHECK(certainty_of(option_with(0.95, 0.80)) == Certainty::firm);
  CHECK(certainty_of(option_with(0.94, 0.80)) == Certainty::likely);
  CHECK(certainty_of(option_with(1.00, 0.66)) == Certainty::likely);
  CHECK(certainty_of(option_with(1.00, 0.49)) == Certainty::open);
  CHECK(certainty_of(option_with(0.79, 0.90)) == Certainty::open);
  decision::RankedOption missing = option_with(0.95, 0.9);
  missing.meets_budgets = false;
  CHECK(certainty_of(missing) == Certainty::open);
  for (const char* number : {"95 %", "80 %", "50 %"}) CHECK_THAT(certainty_scale(), Contains(number));
}

TEST_CASE("An option that is first oftener is named with what puts it behind") {
  Run run = tests::small_run();
  for (auto& ranked : run.ranking.ranked) ranked.first_rank_share = 0.1;
  CHECK(rival_words(run).empty());
  auto& first = run.ranking.ranked[0];
  auto& rival = run.ranking.ranked[1];
  rival.first_rank_share = 0.6;
  const std::string name = run.considered.options[rival.option].id;
  rival.probability_meets_budgets = 0.63;
  CHECK(rival_words(run) == name + " is first oftener, in 60 %, but it keeps all hard budgets in 63 % only");
  rival.probability_meets_budgets = first.probability_meets_budgets;
  first.weighted_margin = 0.933;
  rival.weighted_margin = 0.904;
  CHECK_THAT(rival_words(run), Contains("smaller (+90.4 % against +93.3 %)"));
  rival.meets_budgets = false;
  rival.budgets[1].meets = false;
  CHECK_THAT(rival_words(run), Contains("misses a hard budget at typical inputs"));
}

TEST_CASE("The range of the cost over life stands beside its typical value") {
  decision::RankedOption option;
  CHECK(life_cost_words(option).empty());
  const figures::Unit usd = figures::parse_unit("USD");
  option.figures["cost_per_unit_over_life"] = {1.96, 1.69, 6.02, usd};
  CHECK(life_cost_words(option) ==
        "5 % .. 95 %: 1.69 USD .. 6.02 USD, so rather more than typical inputs give");
  option.figures["cost_per_unit_over_life"] = {1.96, 1.69, 2.3, usd};
  CHECK(life_cost_words(option) == "5 % .. 95 %: 1.69 USD .. 2.30 USD");
  option.figures["cost_per_unit_over_life"] = {1.96, 1.96, 1.96, usd};
  CHECK(life_cost_words(option).empty());
}

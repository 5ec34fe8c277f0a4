// The cost of change: routes, chances and dates, spread and worst cases.
#include <catch2/catch.hpp>
#include <cmath>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

study::Revision yearly(const std::string& name, double chance, std::vector<std::string> touches) {
  study::Revision revision;
  revision.name = name;
  revision.chance_per_year = exact_range(chance);
  revision.touches = std::move(touches);
  return revision;
}

study::Revision dated(const std::string& name, double years_after_start, double chance) {
  study::Revision revision;
  revision.name = name;
  revision.date = "2030-01-01";
  revision.years_after_start = years_after_start;
  revision.chance = exact_range(chance);
  revision.touches = {"policy"};
  return revision;
}

study::Study study_with(std::vector<study::Revision> revisions) {
  study::Study study = study_of_three();
  study.revisions = std::move(revisions);
  study.years = exact_range(6);
  return study;
}

}  // namespace

TEST_CASE("An option that cannot change pays for the board turn, one that can for a campaign") {
  const study::Study study = study_with({yearly("policy-change", 0.25, {"policy"})});
  const Considered considered = considered_with(study);
  const study::Money& money = study.money;
  const Option& fixed = option_named(considered, fixed_id);
  const double labour = money.labour_rate.range.typical;
  const double returned = 0.5 * value_of(fixed, "units") * money.recall_share.range.typical;
  const double rework_s =
      demo().effort.integration_time.range.typical + demo().effort.fixed_function_time.range.typical;
  CHECK(value_of(fixed, "change.policy-change.event") ==
        Approx(rework_s * labour + money.certification_cost.range.typical +
               money.board_turn_cost.range.typical +
               returned * (value_of(fixed, "unit_cost") + money.factory_update_cost.range.typical)));
  const Option& logic = option_named(considered, logic_id);
  CHECK(value_of(logic, "change.policy-change.event") ==
        Approx(value_of(logic, "change.policy-change.rework") * labour +
               money.certification_cost.range.typical + money.field_update_cost.range.typical));
  CHECK(value_of(fixed, "change_cost") == Approx(0.25 * 6 * value_of(fixed, "change.policy-change.event")));
  CHECK(value_of(fixed, "reaction_time") > value_of(logic, "reaction_time"));
}

TEST_CASE("A part that only the factory updates pays for a campaign and the units that come back") {
  parts::Catalog catalog = demo().catalog;
  for (auto& part : catalog.fixed_functions) part.part.upgrade = parts::Upgrade::factory;
  study::Study study = study_with({yearly("policy-change", 0.25, {"policy"})});
  study.only_parts = {fixed_id};
  study::name_inputs(study);
  const Considered considered = consider({catalog, demo().effort, study, demo().library}, 1);
  const Option& fixed = option_named(considered, fixed_id);
  CHECK(value_of(fixed, "change.policy-change.event") ==
        Approx(study.money.certification_cost.range.typical + study.money.field_update_cost.range.typical +
               0.5 * value_of(fixed, "units") * study.money.recall_share.range.typical *
                   study.money.factory_update_cost.range.typical));
}

TEST_CASE("A revision that needs no certification is followed without one") {
  study::Study study = study_with({yearly("policy-change", 0.25, {"policy"})});
  const Considered with = considered_with(study);
  study.revisions.front().needs_certification = false;
  const Considered without = considered_with(study);
  for (const Option& option : without.options) {
    INFO(option.id);
    CHECK(value_of(option_named(with, option.id), "change.policy-change.event") ==
          Approx(value_of(option, "change.policy-change.event") +
                 study.money.certification_cost.range.typical));
  }
}

// Without interest the years add up to the whole; with few units in use the first year's event is cheaper than the last's.
TEST_CASE("What comes back is a share of the units in use in that year") {
  study::Study study = study_with({yearly("policy-change", 0.25, {"policy"})});
  study.money.discount_rate = exact_range(0);
  const Considered considered = considered_with(study);
  const Option& fixed = option_named(considered, fixed_id);
  const double volume = study.volume_per_year.range.typical;
  const double each = study.money.recall_share.range.typical *
                      (value_of(fixed, "unit_cost") + study.money.factory_update_cost.range.typical);
  const double more = value_of(fixed, "year_6.cost") - value_of(fixed, "year_1.cost");
  CHECK(more == Approx(0.25 * 5 * volume * each));
  CHECK(value_of(fixed, "net_present_cost") ==
        Approx(value_of(fixed, "one_time_cost") + value_of(fixed, "change_cost") +
               6 * volume * value_of(fixed, "unit_cost")));
}

TEST_CASE("A revision that touches no block of the option costs nothing") {
  const Considered considered = considered_with(study_with({yearly("elsewhere", 0.9, {"alternate-mode"})}));
  for (const Option& option : considered.options) {
    CHECK(value_of(option, "change_cost") == 0);
    CHECK(value_of(option, "reaction_time") == 0);
    CHECK(value_of(option, "change_cost_worst") == 0);
  }
}

TEST_CASE("A dated revision comes once, with the units then in use, and not after the last unit") {
  study::Study study = study_with({dated("edition", 2.5, 0.8)});
  const Considered considered = considered_with(study);
  const Option& fixed = option_named(considered, fixed_id);
  CHECK(value_of(fixed, "change_cost") == Approx(0.8 * value_of(fixed, "change.edition.event")));
  const double in_use = 2.5 * study.volume_per_year.range.typical;
  CHECK(value_of(fixed, "change.edition.returned_units") ==
        Approx(in_use * study.money.recall_share.range.typical));
  CHECK(value_of(fixed, "change_cost", {{"years", 2}}) == 0);
  CHECK(value_of(fixed, "change_cost", {{"revision.edition.chance", 0}}) == 0);
}

TEST_CASE("Whether production goes on at a dated revision's day is asked once") {
  const Considered considered = considered_with(study_with({dated("edition", 2.5, 0.8)}));
  for (const Option& option : considered.options) {
    INFO(option.id);
    std::size_t asked = 0;
    for (const figures::Node& node : option.ledger.nodes()) {
      asked += node.operation == figures::Operation::at_least ? 1 : 0;
    }
    CHECK(asked == (value_of(option, "change_cost") > 0 ? 1 : 0));
  }
}

// Closed form of the binomial distribution: n p (1 - p) [C].
TEST_CASE("Spread and worst cases come from how often revisions come, and in which year") {
  study::Study study = study_with({yearly("policy-change", 0.25, {"policy"}), dated("edition", 2, 0.5)});
  const auto recalling = considered_with(study).options;
  study.money.recall_share.range = figures::exactly(0);
  const auto spared = considered_with(study).options;
  REQUIRE(recalling.size() == spared.size());
  for (std::size_t i = 0; i < recalling.size(); ++i) {
    const Option& option = recalling[i];
    INFO(option.id);
    REQUIRE(option.id == spared[i].id);
    const double first = value_of(option, "change.policy-change.event");
    const double once = value_of(spared[i], "change.policy-change.event");
    const double second = value_of(option, "change.edition.event");
    double variance = 0.5 * 0.5 * second * second;
    double most = second;
    // In the middle of year t there are t - 1/2 years' units in use, three years' on average.
    for (const double in_use : {0.5, 1.5, 2.5, 3.5, 4.5, 5.5}) {
      const double of_year = once + (first - once) * in_use / 3;
      variance += 0.25 * 0.75 * of_year * of_year;
      most += of_year;
    }
    CHECK(value_of(option, "change_cost_spread") == Approx(std::sqrt(variance)).epsilon(1e-5));
    CHECK(value_of(option, "change_cost_worst") > value_of(option, "change_cost"));
    CHECK(value_of(option, "change_cost_worst") <= most);
  }
}

TEST_CASE("More chance never lowers the cost of change, more units never do either") {
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    double before = -1;
    for (const double chance : {0.0, 0.1, 0.5, 1.0}) {
      const double cost = value_of(option, "change_cost", {{"revision.policy-change.chance", chance}});
      CHECK(cost >= before);
      before = cost;
    }
  }
}

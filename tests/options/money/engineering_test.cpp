// Effort of an option: the rules for logic and firmware, what is reused, and how long it takes.
#include <catch2/catch.hpp>
#include <cmath>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

double sum_of_efforts(const Option& option) {
  double sum = 0;
  for (const std::uint32_t node : option.ledger.named_nodes()) {
    const std::string& key = option.ledger.name_of(node)->key;
    if (key.starts_with("effort_")) sum += value_of(option, key);
  }
  return sum;
}

}  // namespace

TEST_CASE("The effort is the sum of its shares and follows the published and documented rules") {
  const auto& effort = demo().effort;
  const double hour_s = 3600;
  const Considered considered = considered_with(study_of_three());
  for (const Option& option : considered.options) {
    INFO(option.id);
    CHECK(value_of(option, "effort") == Approx(sum_of_efforts(option)));
    CHECK(value_of(option, "effort") > 200 * hour_s);
    if (const auto logic = option.ledger.find("effort_logic")) {
      const double per_lut =
          effort.logic_design_time_per_lut.range.typical / (1 - effort.verification_share.range.typical);
      CHECK(figures::evaluate(option.ledger, *logic) == Approx(value_of(option, "luts_to_make") * per_lut));
    }
    if (option.ledger.find("effort_microcontroller")) {
      // Boehm 1981, intermediate, embedded: 2.8 KDSI^1.20 and the drivers' product.
      double bytes = 0;
      for (const auto& input : option.ledger.inputs()) {
        if (input.key.starts_with("counts.microcontroller_code_bytes.")) bytes = input.range.typical;
      }
      double months = 2.8 * std::pow(bytes / effort.bytes_per_line.range.typical / 1000, 1.20);
      for (const auto& [name, driver] : effort.cost_drivers) months *= driver.range.typical;
      CHECK(value_of(option, "effort_microcontroller") == Approx(months * effort.person_month.range.typical));
    }
  }
}

TEST_CASE("Blocks and parts that the company has cost only what is left of their effort") {
  study::Study study = study_of_three();
  const Considered before = considered_with(study);
  study.reuse.logic_blocks = {"policy", "line-decode"};
  study.reuse.firmware_blocks = {"policy"};
  study.reuse.parts = {logic_id};
  const Considered after = considered_with(study);
  const Option& fixed_before = option_named(before, fixed_id);
  CHECK(value_of(option_named(after, fixed_id), "effort") == Approx(value_of(fixed_before, "effort")));
  const Option& old_logic = option_named(before, logic_id);
  const Option& new_logic = option_named(after, logic_id);
  const double left = demo().effort.reuse_share.range.typical;
  const double reused_luts =
      value_of(old_logic, "counts.policy.luts") + value_of(old_logic, "counts.line-decode.luts");
  CHECK(value_of(new_logic, "luts_to_make") ==
        Approx(value_of(old_logic, "luts_to_make") - (1 - left) * reused_luts));
  CHECK_FALSE(new_logic.ledger.find("effort_approval." + logic_id).has_value());
  // Its family's tools are bought already.
  CHECK(value_of(new_logic, "one_time_cost") <
        value_of(new_logic, "engineering_cost") + study.money.certification_cost.range.typical + 1);
  CHECK(value_of(old_logic, "one_time_cost") ==
        Approx(value_of(old_logic, "engineering_cost") + study.money.certification_cost.range.typical +
               study.money.tools_cost.range.typical));
  for (const Option& option : before.options) {
    if (!option.ledger.find("effort_microcontroller")) continue;
    INFO(option.id);
    const bool has_policy =
        std::any_of(option.assignment.begin(), option.assignment.end(), [](const auto& placed) {
          return placed.first == "policy" && placed.second == to_string(EngineKind::microcontroller);
        });
    const double old_effort = value_of(option, "effort_microcontroller");
    const double new_effort = value_of(option_named(after, option.id), "effort_microcontroller");
    CHECK((has_policy ? new_effort < old_effort : new_effort == old_effort));
  }
}

TEST_CASE("What a revision costs in engineering doesn't depend on reuse") {
  study::Study study = study_of_three();
  const Considered before = considered_with(study);
  study.reuse.logic_blocks = {"policy"};
  const Considered after = considered_with(study);
  CHECK(value_of(option_named(after, logic_id), "change.policy-change.rework") ==
        Approx(value_of(option_named(before, logic_id), "change.policy-change.rework")));
}

TEST_CASE("More engineers never take longer, and the time follows the published schedule") {
  const Considered considered = considered_with(study_of_three());
  for (const Option& option : considered.options) {
    INFO(option.id);
    double before = 1e12;
    for (const double team : {0.5, 1.0, 2.0, 4.0}) {
      const double time = value_of(option, "development_time", {{"effort.team_size", team}});
      CHECK(time <= before);
      before = time;
    }
    // Boehm 1981, embedded: 2.5 person-months^0.32.
    const double months = value_of(option, "person_months");
    CHECK(value_of(option, "development_time", {{"effort.team_size", 1000}}) ==
          Approx(2.5 * std::pow(months, 0.32) * 365.25 / 12 * 86400));
  }
}

// One-time cost: its items add up, and prototypes are paid for where the study names them.
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

TEST_CASE("The items of every option add up to its one-time cost") {
  study::Study study = demo().study;
  study.reuse.firmware_blocks = {"policy", "timers"};
  study.reuse.logic_blocks = {"policy"};
  for (const Considered& considered : {considered_with(study), considered_with(demo().study)}) {
    for (const Option& option : considered.options) {
      INFO(option.id);
      const auto values = figures::evaluate_all(option.ledger);
      double sum = 0;
      for (const OneTimeItem& item : option.one_time_items) {
        CHECK(values[item.node] >= 0);
        sum += values[item.node];
      }
      CHECK(sum == Approx(value_of(option, "one_time_cost")).epsilon(1e-9));
    }
  }
}

TEST_CASE("Certification goes by what carries the protocol") {
  study::Study study = study_of_three();
  study.money.certification_of_controller = exact_range(1000, "USD");
  study.money.certification_of_firmware = exact_range(20000, "USD");
  study.money.certification_of_logic = exact_range(30000, "USD");
  const Considered by_kind = considered_with(study);
  const Considered alike = considered_with(study_of_three());
  const double same = study.money.certification_cost.range.typical;
  for (const auto& [id, own] : {std::pair{fixed_id, 1000.0}, std::pair{logic_id, 30000.0}}) {
    INFO(id);
    CHECK(value_of(option_named(by_kind, id), "one_time_cost") ==
          Approx(value_of(option_named(alike, id), "one_time_cost") - same + own));
  }
  bool has_firmware = false;
  for (const Option& option : alike.options) {
    if (option.kind != OptionKind::microcontroller) continue;
    has_firmware = true;
    CHECK(value_of(option_named(by_kind, option.id), "one_time_cost") ==
          Approx(value_of(option, "one_time_cost") - same + 20000));
  }
  CHECK(has_firmware);
}

TEST_CASE("Prototypes are added once, tools only for parts that are programmed") {
  study::Study study = study_of_three();
  const Considered without = considered_with(study);
  study.money.prototype_cost = exact_range(7000, "USD");
  const Considered with = considered_with(study);
  for (const Option& option : without.options) {
    CHECK(value_of(option_named(with, option.id), "one_time_cost") ==
          Approx(value_of(option, "one_time_cost") + 7000));
  }
  const Option& fixed = option_named(without, fixed_id);
  CHECK(value_of(fixed, "one_time_cost") ==
        Approx(value_of(fixed, "engineering_cost") + study.money.certification_cost.range.typical));
}

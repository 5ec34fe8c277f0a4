// The prices of labour, board, production and change in a study.
#include "study/study_reader.hpp"

namespace portweigh::study {

using namespace reading;
namespace dims = figures::dimensions;

const Fields<Money>& money_fields() {
  const auto once = QuantityRule(dims::money).between(0, 1e8);
  const auto each = QuantityRule(dims::money).between(0, 1e5);
  const auto rate = QuantityRule(dims::money_per_time).between(0, 1e4 / 3600);
  const auto share = QuantityRule(dims::dimensionless).between(0, 1);
  static const Fields<Money> fields = {
      range("labour_rate", &Money::labour_rate, rate, "USD/h", "engineering, all overheads included")
          .as_input("labour rate"),
      range("board_area_cost", &Money::board_area_cost, QuantityRule(dims::money_per_area).between(0, 1e7),
            "USD/m2", "bare board")
          .as_input("bare board"),
      range("placement_cost", &Money::placement_cost, each, "USD", "for each body placed")
          .as_input("placing a body"),
      range("test_cost", &Money::test_cost, each, "USD", "for each unit").as_input("test of a unit"),
      range("programming_rate", &Money::programming_rate, rate, "USD/h", "of a programming fixture")
          .as_input("programming fixture"),
      range("attrition", &Money::attrition, share, "1", "share of parts lost in production")
          .as_input("share of parts lost in production"),
      range("certification_cost", &Money::certification_cost, once, "USD",
            "once, for each option that is not certified already")
          .as_input("certification"),
      range("certification_of_controller", &Money::certification_of_controller, once, "USD",
            "the same where ready controllers alone carry the protocol; absent: certification_cost")
          .as_input("certification of a ready controller"),
      range("certification_of_firmware", &Money::certification_of_firmware, once, "USD",
            "the same where own firmware carries some of it; absent: certification_cost")
          .as_input("certification of own firmware"),
      range("certification_of_logic", &Money::certification_of_logic, once, "USD",
            "the same where own logic carries some of it; absent: certification_cost")
          .as_input("certification of own logic"),
      range("tools_cost", &Money::tools_cost, once, "USD", "once").as_input("tools of a part family"),
      range("board_turn_cost", &Money::board_turn_cost, once, "USD", "new silicon or a new board")
          .as_input("new board or silicon"),
      range("field_update_cost", &Money::field_update_cost, once, "USD", "once for each update campaign")
          .as_input("update campaign"),
      range("factory_update_cost", &Money::factory_update_cost, each, "USD",
            "for each unit returned or reworked")
          .as_input("rework of a unit"),
      range("recall_share", &Money::recall_share, share, "1",
            "share of units that come back when only the factory can update")
          .as_input("share of units that come back"),
      range("discount_rate", &Money::discount_rate, share, "1", "a year").as_input("discount rate"),
      range("test_yield", &Money::test_yield, QuantityRule(dims::dimensionless).between(0.1, 1), "1",
            "share of units that pass their test; absent: 1")
          .as_input("share of units that pass their test"),
      range("prototype_cost", &Money::prototype_cost, once, "USD",
            "once: boards and samples until the design stands; absent: none")
          .as_input("boards and samples of prototypes")};
  return fields;
}

}  // namespace portweigh::study

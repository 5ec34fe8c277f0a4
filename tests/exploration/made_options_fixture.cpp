#include "made_options_fixture.hpp"

namespace portweigh::tests {

options::Option option_of(const std::string& id, const Formula& effort) {
  options::Option option;
  option.id = id;
  const figures::Unit one = figures::parse_unit("1");
  const auto input = [&](const std::string& key, const figures::Range& range) {
    return option.ledger.input(
        {.key = key, .label = key, .range = range, .unit = one, .source = {}, .correlation = ""});
  };
  const figures::Figure x = input("x", {0.5, 1, 2});
  const figures::Figure y = input("y", figures::exactly(1));
  option.ledger.name(effort(option.ledger, x, y), "effort", "effort", one);
  return option;
}

study::Study study_of_effort(study::Strength strength) {
  study::Study study;
  study.currency = "USD";
  study::Budget budget;
  budget.figure = "effort";
  budget.limit_si = 10;
  budget.unit = figures::parse_unit("1");
  budget.strength = strength;
  study.budgets = {budget};
  return study;
}

}  // namespace portweigh::tests

#include "money_fixture.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/units/unit.hpp"

namespace portweigh::tests {

study::Study study_of_three() {
  study::Study study = demo().study;
  study.money.certification_of_controller.reset();
  study.money.certification_of_logic.reset();
  study.only_parts = {fixed_id, logic_id, "mcu-32b-mid"};
  return study;
}

options::Considered considered_with(study::Study study) {
  study::name_inputs(study);
  return options::consider({demo().catalog, demo().effort, study, demo().library}, 2);
}

const options::Option& option_named(const options::Considered& considered, const std::string& id) {
  const auto& all = considered.options;
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const auto& option) { return option.id == id; });
  if (found == all.end()) {
    for (const auto& rejection : considered.rejections) {
      if (rejection.id == id) FAIL(id << " was rejected: " << rejection.reason);
    }
    FAIL("no option " << id);
  }
  return *found;
}

double value_of(const options::Option& option, const std::string& key,
                const std::vector<figures::Setting>& settings) {
  return figures::evaluate(option.ledger, option.ledger.at(key), settings);
}

reading::SourcedRange exact_range(double value, const std::string& unit) {
  const figures::Unit parsed = figures::parse_unit(unit);
  return {figures::exactly(figures::to_si(value, parsed)), parsed, {}};
}

figures::Figure number(figures::Ledger& ledger, const std::string& key, double value,
                       const std::string& unit) {
  return ledger.input({.key = key,
                       .label = key,
                       .range = figures::exactly(value),
                       .unit = figures::parse_unit(unit),
                       .source = {},
                       .correlation = ""});
}

}  // namespace portweigh::tests

// Supply as figures that budgets can name.
#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"
#include "options/limits.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

TEST_CASE("Parts without a second source are counted, a shortfall of supply is measured") {
  study::Study study = demo().study;
  study.years = exact_range(9);
  const double year_s = figures::to_si(1, figures::parse_unit("year"));
  const Considered considered = considered_with(study);
  REQUIRE_FALSE(considered.options.empty());
  for (const Option& option : considered.options) {
    INFO(option.id);
    double single = 0;
    double shortest_s = 1e12;
    const auto look = [&](const parts::Part& part) {
      if (std::find(option.parts.begin(), option.parts.end(), part.id) == option.parts.end()) return;
      single += part.has_second_source ? 0 : 1;
      shortest_s = std::min(shortest_s, part.availability.value_si);
    };
    for (const auto& part : demo().catalog.programmable_logic) look(part.part);
    for (const auto& part : demo().catalog.microcontrollers) look(part.part);
    for (const auto& part : demo().catalog.fixed_functions) look(part.part);
    CHECK(value_of(option, "single_sourced_parts") == single);
    CHECK(value_of(option, "availability_shortfall") ==
          Approx(std::max(0.0, 9 * year_s - shortest_s)).margin(1e-3));
  }
}

TEST_CASE("A budget of no single-sourced parts is met by parts with a second source only") {
  const Limit limit{"single_sourced_parts", 0, 0, 1, true, false, figures::parse_unit("1"), ""};
  const Considered considered = considered_with(study_of_three());
  CHECK(meets(limit, value_of(option_named(considered, fixed_id), "single_sourced_parts")));
  CHECK_FALSE(meets(limit, value_of(option_named(considered, logic_id), "single_sourced_parts")));
}

// Units by year: ramp, part of a year, and units in use.
#include <catch2/catch.hpp>

#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

study::Study study_with(double years, double longest, const std::vector<double>& ramp) {
  study::Study study = study_of_three();
  study.only_parts = {fixed_id};
  study.volume_per_year = exact_range(10000);
  study.years = exact_range(years);
  study.years.range.high = longest;
  for (const double share : ramp) {
    study.life.volume_ramp.push_back({share, figures::parse_unit("1"), {}});
  }
  return study;
}

}  // namespace

TEST_CASE("Without a ramp every year has the same units, the last what is left") {
  const Considered considered = considered_with(study_with(2.5, 4, {}));
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "units") == Approx(25000));
  CHECK(value_of(option, "year_1.units") == Approx(10000));
  CHECK(value_of(option, "year_3.units") == Approx(5000));
  CHECK(value_of(option, "year_4.units") == 0);
  CHECK(value_of(option, "units_in_field") == Approx(12500));
  // Beyond the years that were planned the last one takes the rest.
  CHECK(value_of(option, "year_4.units", {{"years", 9}}) == Approx(60000));
}

TEST_CASE("A ramp weighs the years, and its last share holds on") {
  const Considered considered = considered_with(study_with(4, 4, {0.2, 0.5}));
  const Option& option = option_named(considered, fixed_id);
  CHECK(value_of(option, "units") == Approx(2000 + 3 * 5000));
  // In use, by the middle of each year: 1000, 4500, 9500, 14500.
  CHECK(value_of(option, "units_in_field") == Approx((1000 + 4500 + 9500 + 14500) / 4.0));
  CHECK(value_of(option, "units", {{"years", 0.5}}) == Approx(1000));
}

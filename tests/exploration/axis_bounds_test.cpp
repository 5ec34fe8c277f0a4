#include "exploration/axis_bounds.hpp"

#include <catch2/catch.hpp>

using portweigh::exploration::bounds_of_input;
namespace dimensions = portweigh::figures::dimensions;

namespace {

void check_bounds(std::string_view key, const portweigh::figures::Dimension& dimension, double lower,
                  double upper) {
  CAPTURE(key);
  const auto bounds = bounds_of_input(key, dimension);
  CHECK(bounds.lower_si == Approx(lower));
  CHECK(bounds.upper_si == Approx(upper));
}

}  // namespace

TEST_CASE("Inputs known by the end of their key have the bounds of the study's reader") {
  check_bounds("duty_cycle", dimensions::dimensionless, 0, 1);
  check_bounds("revision.policy-change.chance", dimensions::dimensionless, 0, 1);
  check_bounds("use.attached.share", dimensions::dimensionless, 0, 1);
  check_bounds("study.recall_share", dimensions::dimensionless, 0, 1);
  check_bounds("parts.pl-1.regulator_efficiency", dimensions::dimensionless, 0.01, 1);
  check_bounds("volume_per_year", dimensions::dimensionless, 1, 1e10);
  check_bounds("orders_per_year", dimensions::dimensionless, 0.1, 366);
  check_bounds("years", dimensions::dimensionless, 0.1, 50);
  check_bounds("study.ambient", dimensions::temperature, 200, 450);
  check_bounds("study.supply_voltage", dimensions::voltage, 0.5, 60);
}

TEST_CASE("Only whole words of a key count") {
  check_bounds("revision.policy-change.years_after_start", dimensions::dimensionless, 0, 1e15);
  check_bounds("parts.x.timeshare", dimensions::dimensionless, 0, 1e15);
}

TEST_CASE("Other inputs are bounded by their dimension") {
  check_bounds("required_clock.mcu-1", dimensions::frequency, 1, 100e9);
  check_bounds("use.attached.wake_ups", dimensions::frequency, 0, 100e9);
  check_bounds("parts.pl-1.core_voltage", dimensions::voltage, 0.1, 1000);
  check_bounds("parts.pl-1.highest_junction", dimensions::temperature, 173.15, 573.15);
  check_bounds("parts.pl-1.leakage_doubling", dimensions::temperature, 1, 1000);
  check_bounds("parts.pl-1.leakage_current", dimensions::current, 0, 100);
}

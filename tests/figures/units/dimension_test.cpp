#include "figures/units/dimension.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace portweigh::figures;

TEST_CASE("dimensions multiply, divide and take powers") {
  CHECK(multiply(dimensions::power, dimensions::time) == dimensions::energy);
  CHECK(divide(dimensions::energy, dimensions::time) == dimensions::power);
  CHECK(multiply(dimensions::current, dimensions::voltage) == dimensions::power);
  CHECK(multiply(dimensions::current, dimensions::time) == dimensions::charge);
  CHECK(divide(dimensions::charge, dimensions::voltage) == dimensions::capacitance);
  CHECK(divide(dimensions::voltage, dimensions::current) == dimensions::resistance);
  CHECK(divide(dimensions::temperature, dimensions::power) == dimensions::thermal_resistance);
  CHECK(multiply(dimensions::inductance, divide(dimensions::current, dimensions::time)) ==
        dimensions::voltage);
  CHECK(power_of(dimensions::length, 2) == dimensions::area);
  CHECK(power_of(dimensions::time, -1) == dimensions::frequency);
  CHECK(is_dimensionless(divide(dimensions::money, dimensions::money)));
}

TEST_CASE("joules don't pass for watts, nor money for a number") {
  CHECK_FALSE(dimensions::energy == dimensions::power);
  CHECK_FALSE(dimensions::money == dimensions::dimensionless);
}

TEST_CASE("dimensions are written as people write them") {
  CHECK(to_string(dimensions::power) == "W");
  CHECK(to_string(dimensions::frequency) == "Hz");
  CHECK(to_string(dimensions::thermal_resistance) == "K/W");
  CHECK(to_string(dimensions::dimensionless) == "1");
  CHECK(to_string(Dimension{4}) == "m4");
  CHECK(to_string(Dimension{2, 1, -4}) == "kg m2 s-4");
  CHECK(describe(dimensions::power) == "power (W)");
  CHECK(describe(dimensions::money) == "money");
  CHECK(describe(dimensions::dimensionless) == "a plain number");
}

TEST_CASE("exponents convert both ways and refuse what doesn't fit") {
  CHECK(from_exponents(exponents(dimensions::voltage)) == dimensions::voltage);
  CHECK_THROWS_AS(from_exponents({101, 0, 0, 0, 0, 0}), std::out_of_range);
  CHECK_THROWS_AS(power_of(dimensions::capacitance, 1000000000), std::out_of_range);
}

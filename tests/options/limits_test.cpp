#include "options/limits.hpp"

#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

TEST_CASE("The margin is the distance to what is allowed, as a share of it") {
  Limit limit;
  limit.limit = 12e-3;
  limit.wanted_margin = 0.1;
  // Allowed are 10.8 mW.
  CHECK(margin_of(limit, 5.4e-3) == Approx(0.5));
  CHECK(margin_of(limit, 10.8e-3) == Approx(0).margin(1e-12));
  CHECK(margin_of(limit, 1) == -1);
  CHECK(meets(limit, 10.8e-3));
  CHECK_FALSE(meets(limit, 10.9e-3));
}

TEST_CASE("A limit of nothing is met by nothing only") {
  const Limit none;
  CHECK(margin_of(none, 0) == 0);
  CHECK(margin_of(none, 1) == -1);
  CHECK(excess_of(none, 0) == 0);
  CHECK(excess_of(none, 1) == endless_excess);
}

TEST_CASE("A temperature counts from the ambient") {
  Limit limit;
  limit.unit = figures::parse_unit("degC");
  limit.limit = 273.15 + 85;
  limit.zero = zero_of(limit.unit.dimension, limit.limit, 273.15 + 25);
  // 5 of 60 K.
  CHECK(margin_of(limit, 273.15 + 30) == Approx(55.0 / 60));
  CHECK(excess_of(limit, 273.15 + 30) == Approx(5.0 / 60));
  CHECK(margin_of(limit, 273.15 + 91) == Approx(-0.1));
  CHECK(margin_of(limit, 273.15 + 200) == -1);
  CHECK(excess_of(limit, 273.15 + 145) == Approx(2));
  // A tenth of the 60 K is kept free: 79 degC are allowed.
  limit.wanted_margin = 0.1;
  CHECK(allowed_of(limit) == Approx(273.15 + 79));
  CHECK(meets(limit, 273.15 + 78.9));
  CHECK_FALSE(meets(limit, 273.15 + 79.1));
  CHECK(margin_of(limit, 273.15 + 52) == Approx(0.5));
}

TEST_CASE("In air as hot as the limit a temperature counts from 1 K below it") {
  Limit limit;
  limit.unit = figures::parse_unit("degC");
  limit.limit = 273.15 + 85;
  for (const double ambient_c : {84.5, 85.0, 120.0}) {
    limit.zero = zero_of(limit.unit.dimension, limit.limit, 273.15 + ambient_c);
    CHECK(limit.zero == Approx(273.15 + 84));
    CHECK(margin_of(limit, 273.15 + 84.75) == Approx(0.25));
    CHECK(excess_of(limit, 273.15 + 124) == Approx(40));
  }
}

TEST_CASE("Figures that aren't temperatures count from nothing") {
  CHECK(zero_of(figures::dimensions::power, 0.01, 300) == 0);
  Limit limit;
  limit.limit = 0.01;
  CHECK(margin_of(limit, 0.007) == Approx(0.3));
  CHECK(excess_of(limit, 0.046) == Approx(4.6));
}

TEST_CASE("Limits on temperatures have the study's typical ambient as their zero") {
  const auto& study = tests::demo().study;
  bool has_temperature = false;
  for (const Limit& limit : limits_of(tests::demo().considered.options.front(), study)) {
    const bool is_temperature = limit.unit.dimension == figures::dimensions::temperature;
    CHECK(limit.zero == (is_temperature ? study.ambient.range.typical : 0.0));
    has_temperature = has_temperature || is_temperature;
  }
  CHECK(has_temperature);
}

TEST_CASE("The study's budgets come first, then the option's own limits") {
  const auto& study = tests::demo().study;
  const Option& option = tests::demo().considered.options.front();
  const auto limits = limits_of(option, study);
  REQUIRE(limits.size() == study.budgets.size() + option.implied_limits.size());
  for (std::size_t i = 0; i < limits.size(); ++i) CHECK(limits[i].is_implied == (i >= study.budgets.size()));
}

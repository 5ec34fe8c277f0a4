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
}

TEST_CASE("The study's budgets come first, then the option's own limits") {
  const auto& study = tests::demo().study;
  const Option& option = tests::demo().considered.options.front();
  const auto limits = limits_of(option, study);
  REQUIRE(limits.size() == study.budgets.size() + option.implied_limits.size());
  for (std::size_t i = 0; i < limits.size(); ++i) CHECK(limits[i].is_implied == (i >= study.budgets.size()));
}

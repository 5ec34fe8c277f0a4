#include "figures/ledger/lookup_table.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace portweigh::figures;

namespace {
LookupTable prices() {
  return {{100, 1000}, {2.50, 1.80}, dimensions::dimensionless, dimensions::money, Scale::log_log, "price"};
}
}  // namespace

// [C] computed independently of this code: log-log price (100, 2.50), (1000, 1.80) at 300.
TEST_CASE("log-log price between two breaks") {
  CHECK(value_at(prices(), 300.0) == Approx(2.13732).epsilon(3e-6));
  CHECK(value_at(prices(), 100.0) == 2.50);
  CHECK(value_at(prices(), 1000.0) == 1.80);
}

TEST_CASE("a power law is read back exactly on log-log axes") {
  LookupTable table{{1, 4, 50}, {}, {}, {}, Scale::log_log, "law"};
  for (const double x : table.x) table.y.push_back(3.0 * std::pow(x, -0.7));
  for (const double x : {1.5, 3.9, 4.0, 20.0, 49.0}) {
    CHECK(value_at(table, x) == Approx(3.0 * std::pow(x, -0.7)));
  }
}

TEST_CASE("straight lines between points, end values outside") {
  const LookupTable table{{0, 10, 20}, {5, 15, -5}, {}, {}, Scale::linear, "curve"};
  CHECK(value_at(table, 4.0) == Approx(9.0));
  CHECK(value_at(table, 10.0) == 15.0);
  CHECK(value_at(table, 15.0) == Approx(5.0));
  CHECK(value_at(table, -1.0) == 5.0);
  CHECK(value_at(table, 21.0) == -5.0);
  CHECK(std::isnan(value_at(table, std::numeric_limits<double>::quiet_NaN())));
  CHECK(value_at(LookupTable{{7}, {3}, {}, {}, Scale::linear, "one"}, 8.0) == 3.0);
}

TEST_CASE("slopes worked out beforehand give the same bits") {
  const auto table = prices();
  const auto slopes = segment_slopes(table);
  REQUIRE(slopes.size() == 1);
  for (double x = 50; x < 2000; x *= 1.1) CHECK(value_at(table, slopes, x) == value_at(table, x));
}

TEST_CASE("malformed tables are refused") {
  const auto refuses = [](LookupTable table) {
    CHECK_THROWS_AS(require_valid(table), std::invalid_argument);
  };
  refuses({{}, {}, {}, {}, Scale::linear, ""});
  refuses({{1, 2}, {1}, {}, {}, Scale::linear, ""});
  refuses({{2, 1}, {1, 1}, {}, {}, Scale::linear, ""});
  refuses({{1, 1}, {1, 1}, {}, {}, Scale::linear, ""});
  refuses({{0, 1}, {1, 1}, {}, {}, Scale::log_log, ""});
  refuses({{1, 2}, {1, -1}, {}, {}, Scale::log_log, ""});
  refuses({{1, std::numeric_limits<double>::infinity()}, {1, 1}, {}, {}, Scale::linear, ""});
  CHECK_NOTHROW(require_valid(prices()));
}

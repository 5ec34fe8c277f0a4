#include "exploration/crossover.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "made_options_fixture.hpp"

using namespace portweigh;
using namespace portweigh::exploration;
using tests::option_of;
using tests::study_of_effort;

namespace {

using Curve = std::function<double(double)>;

// Who of several curves is highest, and by how much.
LeadAt leads_of(std::vector<Curve> curves) {
  return [curves = std::move(curves)](const std::vector<double>& values) {
    std::vector<Lead> leads;
    for (const double value : values) {
      Lead lead{0, 2};
      for (std::size_t i = 1; i < curves.size(); ++i) {
        const auto leader = static_cast<std::size_t>(lead.leader);
        if (curves[i](value) > curves[leader](value)) lead.leader = static_cast<Eigen::Index>(i);
      }
      const double top = curves[static_cast<std::size_t>(lead.leader)](value);
      for (std::size_t i = 0; i < curves.size(); ++i) {
        if (static_cast<Eigen::Index>(i) != lead.leader)
          lead.gap = std::min(lead.gap, top - curves[i](value));
      }
      leads.push_back(lead);
    }
    return leads;
  };
}

void check(const Axis& axis, const std::vector<Curve>& curves, const std::vector<double>& expected) {
  const LeadAt lead_at = leads_of(curves);
  const auto found = find_crossovers(axis, lead_at);
  REQUIRE(found.size() == expected.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    CHECK(found[i].above == Approx(expected[i]).epsilon(1e-8));
    CHECK(found[i].below <= found[i].above);
    CHECK(found[i].above - found[i].below <= 2e-9 * std::abs(found[i].above));
    // Evaluated just beside, the leaders are those that were told.
    const auto beside = lead_at({found[i].below, found[i].above});
    CHECK(beside[0].leader == found[i].leader_below);
    CHECK(beside[1].leader == found[i].leader_above);
    CHECK(found[i].leader_below != found[i].leader_above);
  }
}

Axis linear(double from, double to) {
  return {"x", from, to, 11, Spacing::linear};
}

const Curve zero = [](double) { return 0.0; };

}  // namespace

TEST_CASE("Every one of many crossings is found") {
  std::vector<double> expected;
  for (int i = 1; i <= 40; ++i) expected.push_back(i * std::numbers::pi / 4);
  check(linear(0.1, 10 * std::numbers::pi + 0.1), {[](double x) { return std::sin(4 * x); }, zero}, expected);
}

TEST_CASE("Crossings at uneven places, down to a thousandth of the range apart") {
  const std::vector<double> roots = {0.1, 0.1009, 0.25, 0.6, 0.601, 0.9};
  check(linear(0, 1),
        {[&](double x) {
           double product = 1;
           for (const double root : roots) product *= x - root;
           return product;
         },
         zero},
        roots);
}

TEST_CASE("A pair of crossings between two points of the first search is found by its closing gap") {
  // The parabola is above zero for 0.5 -+ h; the first search has 512 intervals, 0.00195 wide. It sees 0.5,
  // so the pair lies off its points.
  for (const double h : {1e-4, 1e-5, 2e-6}) {
    const double middle = 0.500977;
    INFO("half width " << h);
    check(linear(0, 1), {zero, [&](double x) { return h * h - (x - middle) * (x - middle); }},
          {middle - h, middle + h});
  }
}

TEST_CASE("A curve that touches and turns back doesn't cross") {
  check(linear(0, 1), {zero, [](double x) { return -(x - 0.31) * (x - 0.31) - 1e-12; }}, {});
  check(linear(0, 1), {zero, [](double x) { return -std::pow(x - 0.5, 2); }}, {});
}

TEST_CASE("Three leaders in turn, a jump, and the ends of the range") {
  check(linear(0, 10),
        {[](double x) { return 5 - x; }, [](double) { return 2.0; }, [](double x) { return x - 4; }}, {3, 6});
  check(linear(-1, 1), {[](double x) { return x < 0.123456 ? 1.0 : -1.0; }, zero}, {0.123456});
  check(linear(1, 2), {[](double x) { return x; }, zero}, {});
}

TEST_CASE("Several crossings over many decades of a logarithmic range") {
  const Axis axis{"x", 1e-6, 1, 2, Spacing::logarithmic};
  std::vector<double> expected;
  for (const double decade : {-5.5, -4.5, -3.5, -2.5, -1.5, -0.5}) expected.push_back(std::pow(10, decade));
  check(axis, {[](double x) { return std::cos(std::numbers::pi * std::log10(x)); }, zero}, expected);
}

TEST_CASE("Options cross where their figures are equal, and where one stops being feasible") {
  std::vector<options::Option> all;
  all.push_back(option_of("rising", [](auto&, auto x, auto) { return 2.0 * x + 1.0; }));
  all.push_back(option_of("flat", [](auto&, auto x, auto) { return 0.0 * x + 6.0; }));
  const Field field(all, study_of_effort(), "effort");
  const auto found = find_crossovers(linear(0.1, 8), lead_along(field, "x"));
  REQUIRE(found.size() == 1);
  CHECK(found[0].above == Approx(2.5));
  all.front().implied_limits.push_back({"effort", 4, "a limit of its own"});
  const Field limited(all, study_of_effort(), "effort");
  const auto earlier = find_crossovers(linear(0.1, 8), lead_along(limited, "x"));
  REQUIRE(earlier.size() == 1);
  CHECK(earlier[0].above == Approx(1.5));
}

TEST_CASE("Flips are the nearest change either way, smallest first, and hold just beside") {
  std::vector<options::Option> all;
  all.push_back(option_of("first", [](auto&, auto x, auto y) { return x * x + 3.0 * y; }));
  all.push_back(option_of("second", [](auto&, auto x, auto y) { return 0.0 * x * y + 5.0; }));
  const Field field(all, study_of_effort(), "effort");
  const auto flips = find_flips(all, field);
  REQUIRE(flips.size() == 2);
  // x^2 + 3 = 5 at x = sqrt 2 (+41 %); 1 + 3 y = 5 at y = 4/3 (+33 %), which is exact, so outside its range.
  CHECK(flips[0].input == "y");
  CHECK(flips[0].value == Approx(4.0 / 3));
  CHECK(flips[0].relative == Approx(1.0 / 3));
  CHECK_FALSE(flips[0].is_within_range);
  CHECK(flips[1].input == "x");
  CHECK(flips[1].value == Approx(std::numbers::sqrt2));
  CHECK(flips[1].is_within_range);
  for (const Flip& flip : flips) {
    const auto beside = lead_along(field, flip.input)({flip.value * (1 - 1e-6), flip.value});
    CHECK(beside[0].leader == 0);
    CHECK(beside[1].leader == flip.new_leader);
    CHECK(flip.new_leader == 1);
  }
}

namespace {

// A part that warms by `rise_k` above the ambient (30 degC, 20 to 60), and an effort.
options::Option warm_option(const std::string& id, double rise_k, double effort, double limit_c) {
  options::Option option;
  option.id = id;
  figures::Ledger& ledger = option.ledger;
  const auto ambient = ledger.input({.key = std::string(options::ambient_key),
                                     .label = "ambient",
                                     .range = {293.15, 303.15, 333.15},
                                     .unit = figures::parse_unit("degC"),
                                     .source = {},
                                     .correlation = ""});
  const auto rise = ledger.constant(rise_k, figures::dimensions::temperature, "rise");
  ledger.name(ambient + rise, "junction_temperature", "junction", figures::parse_unit("degC"));
  const auto own = ledger.input({.key = id + ".effort",
                                 .label = "effort",
                                 .range = figures::exactly(effort),
                                 .unit = figures::parse_unit("1"),
                                 .source = {},
                                 .correlation = ""});
  ledger.name(own, "effort", "effort", figures::parse_unit("1"));
  option.implied_limits.push_back({"junction_temperature", 273.15 + limit_c, "highest junction temperature"});
  return option;
}

}  // namespace

TEST_CASE("A flip by the ambient is a share of its room below the lowest limit") {
  // The cheap one warms by 44 K: beyond 41 degC it is above 85 degC, and the other leads, up to 95 degC.
  std::vector<options::Option> all;
  all.push_back(warm_option("cheap", 44, 2, 85));
  all.push_back(warm_option("cool", 0, 4, 95));
  study::Study study = study_of_effort();
  study.ambient.range = {293.15, 303.15, 333.15};
  const Field field(all, study, "effort");
  const auto flips = find_flips(all, field);
  REQUIRE(flips.size() == 3);
  CHECK(flips[0].input == options::ambient_key);
  CHECK(flips[0].value == Approx(273.15 + 41));
  CHECK(flips[0].relative == Approx(11.0 / 55));
  CHECK(flips[0].base == Approx(55));
  CHECK(flips[0].is_temperature);
  CHECK(flips[0].is_within_range);
  CHECK(flips[0].new_leader == 1);
  CHECK_FALSE(flips[1].is_temperature);
  CHECK(flips[1].base == Approx(flips[1].typical));
}

TEST_CASE("A flip downwards; no flip where the leader always leads") {
  std::vector<options::Option> all;
  all.push_back(option_of("first", [](auto&, auto x, auto) { return 4.0 / x; }));
  all.push_back(option_of("second", [](auto&, auto x, auto) { return 0.0 * x + 5.0; }));
  const Field field(all, study_of_effort(), "effort");
  const auto flips = find_flips(all, field);
  REQUIRE(flips.size() == 1);
  CHECK(flips[0].value == Approx(0.8));
  CHECK(flips[0].relative == Approx(-0.2));
  CHECK(find_flips(all, field, 1.1).empty());
}

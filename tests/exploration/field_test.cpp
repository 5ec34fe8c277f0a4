#include "exploration/field.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "made_options_fixture.hpp"

using namespace portweigh;
using namespace portweigh::exploration;
using tests::option_of;
using tests::study_of_effort;

namespace {

std::vector<options::Option> rising_and_flat() {
  std::vector<options::Option> all;
  all.push_back(option_of("rising", [](auto&, auto x, auto y) { return 4.0 * x * y; }));
  all.push_back(option_of("flat", [](auto&, auto x, auto) { return 0.0 * x + 6.0; }));
  return all;
}

}  // namespace

TEST_CASE("The leader has the larger margin; inputs that aren't moved stay typical") {
  const auto all = rising_and_flat();
  const Field field(all, study_of_effort(), "effort");
  const FieldValues at = field.at({{"x", {1, 1.4, 1.6, 3}}}, 4);
  CHECK(at.leader == std::vector<Eigen::Index>{0, 0, 1, 1});
  CHECK(at.score(0, 0) == Approx(0.6));
  CHECK(at.score(3, 0) == Approx(-0.2));
  CHECK(at.figure(2, 0) == Approx(6.4));
  CHECK(at.figure(2, 1) == Approx(6));
  const FieldValues moved = field.at({{"x", {1, 1}}, {"y", {1, 2}}}, 2);
  CHECK(moved.leader == std::vector<Eigen::Index>{0, 1});
  CHECK(field.at({}, 1).leader == std::vector<Eigen::Index>{0});
}

TEST_CASE("What breaks a hard budget can't lead, and nobody leads where all do") {
  auto all = rising_and_flat();
  all.front().implied_limits.push_back({"effort", 4.5, "a limit of its own"});
  const Field field(all, study_of_effort(study::Strength::hard), "effort");
  const FieldValues at = field.at({{"x", {1, 1.2}}}, 2);
  CHECK(at.leader == std::vector<Eigen::Index>{0, 1});
  CHECK(at.feasible(1, 0) == 0);
  std::vector<options::Option> heavy;
  heavy.push_back(option_of("heavy", [](auto&, auto x, auto) { return 8.0 * x; }));
  const Field alone(heavy, study_of_effort(study::Strength::hard), "effort");
  CHECK(alone.at({{"x", {1, 2}}}, 2).leader == std::vector<Eigen::Index>{0, -1});
}

TEST_CASE("A figure that an option lacks is no number, and an unknown input moves nothing") {
  const auto all = rising_and_flat();
  const Field field(all, study_of_effort(), "unit_cost");
  CHECK(std::isnan(field.at({}, 1).figure(0, 0)));
  CHECK(field.at({{"z", {5}}}, 1).score(0, 0) == Approx(0.6));
  CHECK(field.size() == 2);
}

TEST_CASE("Where the ambient moves, temperatures count from the moved one") {
  options::Option option;
  option.id = "warm";
  const auto ambient = option.ledger.input({.key = std::string(options::ambient_key),
                                            .label = "ambient",
                                            .range = figures::exactly(273.15 + 25),
                                            .unit = figures::parse_unit("degC"),
                                            .source = {},
                                            .correlation = ""});
  const auto rise = option.ledger.constant(10, figures::dimensions::temperature, "rise");
  option.ledger.name(ambient + rise, "junction_temperature", "junction", figures::parse_unit("degC"));
  study::Study study = study_of_effort(study::Strength::hard);
  study.ambient.range = figures::exactly(273.15 + 25);
  study.budgets[0].figure = "junction_temperature";
  study.budgets[0].limit_si = 273.15 + 85;
  study.budgets[0].unit = figures::parse_unit("degC");
  std::vector<options::Option> all;
  all.push_back(std::move(option));
  const Field field(all, study, "junction_temperature");
  // 10 of 60 K; of 20 K at 65 degC; 5 K too many at 80 degC.
  CHECK(field.at({}, 1).score(0, 0) == Approx(1 - 10.0 / 60));
  const FieldValues moved =
      field.at({{std::string(options::ambient_key), {273.15 + 25, 273.15 + 65, 273.15 + 80}}}, 3);
  CHECK(moved.score(0, 0) == Approx(1 - 10.0 / 60));
  CHECK(moved.score(1, 0) == Approx(0.5));
  CHECK(moved.score(2, 0) == -1);
  CHECK(moved.leader == std::vector<Eigen::Index>{0, 0, -1});
  CHECK(field.lowest_temperature_limit(0) == Approx(273.15 + 85));
  CHECK(Field(all, study_of_effort(), "effort").lowest_temperature_limit(450) == 450);
}

// Cost over life and its present value, against the same sums written out.
#include <catch2/catch.hpp>
#include <cmath>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

study::Study full_study() {
  study::Study study = study_of_three();
  study.years = exact_range(5);
  study.volume_per_year = exact_range(40000);
  for (const double share : {0.4, 0.8, 1.0}) {
    study.life.volume_ramp.push_back({share, figures::parse_unit("1"), {}});
  }
  study.life.price_erosion = exact_range(0.05);
  study.life.learning_rate = exact_range(0.9);
  study.life.learning_reference = exact_range(10000);
  return study;
}

}  // namespace

TEST_CASE("Cost over life is the mean unit and its shares of one-time cost, change and stock") {
  for (const study::Study& study : {study_of_three(), full_study()}) {
    for (const Option& option : considered_with(study).options) {
      INFO(option.id);
      const double units = value_of(option, "units");
      const auto average = option.ledger.find("average_unit_cost");
      const double unit =
          average ? figures::evaluate(option.ledger, *average) : value_of(option, "unit_cost");
      const auto stock = option.ledger.find("last_time_buy_cost");
      const double stored = stock ? figures::evaluate(option.ledger, *stock) : 0;
      CHECK(value_of(option, "cost_per_unit_over_life") ==
            Approx(unit +
                   (value_of(option, "one_time_cost") + value_of(option, "change_cost") + stored) / units));
    }
  }
}

TEST_CASE("The years' costs add up to cost over life, and discounted to the net present cost") {
  for (const study::Study& study : {study_of_three(), full_study()}) {
    const double rate = study.money.discount_rate.range.typical;
    for (const Option& option : considered_with(study).options) {
      INFO(option.id);
      double plain = value_of(option, "one_time_cost");
      double discounted = plain;
      for (int year = 1; const auto cost = option.ledger.find("year_" + std::to_string(year) + ".cost");
           ++year) {
        plain += figures::evaluate(option.ledger, *cost);
        discounted += figures::evaluate(option.ledger, *cost) / std::pow(1 + rate, year);
      }
      CHECK(plain == Approx(value_of(option, "cost_per_unit_over_life") * value_of(option, "units")));
      CHECK(discounted == Approx(value_of(option, "net_present_cost")));
      CHECK(value_of(option, "net_present_cost", {{"study.discount_rate", 0}}) == Approx(plain));
    }
  }
}

// Wright: mean cost of n units by that of n0 is (n / n0)^log2(rate).
TEST_CASE("Falling prices and learning weigh the years as their formulas say") {
  const Considered considered = considered_with(full_study());
  const Option& option = option_named(considered, logic_id);
  const double units[] = {16000, 32000, 40000, 40000, 40000};
  double priced = 0;
  for (int year = 0; year < 5; ++year) priced += units[year] * std::pow(0.95, year);
  CHECK(value_of(option, "price_level") == Approx(priced / 168000));
  CHECK(value_of(option, "learning_level") == Approx(std::pow(16.8, std::log2(0.9))));
  CHECK(value_of(option, "average_unit_cost") ==
        Approx(value_of(option, "parts_cost") * priced / 168000 +
               value_of(option, "production_cost") * std::pow(16.8, std::log2(0.9))));
}

TEST_CASE("Crawford's curve gives the mean of units that get cheaper one by one") {
  study::Study study = full_study();
  study.life.learning_curve = study::LearningCurve::crawford;
  const Considered considered = considered_with(study);
  const double b = std::log2(0.9);
  // The sum over 168 000 units is its integral to six digits.
  const double mean = std::pow(168000, b) / (1 + b) / std::pow(10000, b);
  CHECK(value_of(option_named(considered, logic_id), "learning_level") == Approx(mean).epsilon(1e-4));
}

TEST_CASE("Where the promise of supply ends early, the rest is bought and stored") {
  parts::Catalog catalog = demo().catalog;
  const double year_s = figures::to_si(1, figures::parse_unit("year"));
  for (auto& part : catalog.fixed_functions) part.part.availability.value_si = 4 * year_s;
  study::Study study = study_of_three();
  study.only_parts = {fixed_id};
  study.years = exact_range(6);
  study.life.carrying_cost = exact_range(0.2);
  study::name_inputs(study);
  const Considered considered = consider({catalog, demo().effort, study, demo().library}, 1);
  const Option& fixed = option_named(considered, fixed_id);
  const double left = 2 * study.volume_per_year.range.typical;
  CHECK(value_of(fixed, "units_from_stock") == Approx(left));
  CHECK(value_of(fixed, "last_time_buy_cost") == Approx(left * value_of(fixed, "parts_cost") * 0.2 * 2 / 2));
  CHECK(value_of(fixed, "last_time_buy_cost", {{"years", 3}}) == Approx(0).margin(1e-9));
}

TEST_CASE("With ramp and learning, too, more volume never raises cost over life") {
  for (const Option& option : considered_with(full_study()).options) {
    INFO(option.id);
    double before = 1e9;
    for (const double volume : {16000.0, 40000.0, 100000.0, 1e6}) {
      const double cost = value_of(option, "cost_per_unit_over_life", {{"volume_per_year", volume}});
      CHECK(cost <= before);
      before = cost;
    }
  }
}

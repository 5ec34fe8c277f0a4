// Swings by hand: two options, two budgets.
#include "decision/swing.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;

namespace {

options::Option option_with(const std::string& id, double cells, double effort) {
  options::Option option;
  option.id = id;
  const figures::Unit one = figures::parse_unit("1");
  option.ledger.name(option.ledger.constant(cells) + 0.0, "logic_cells", "cells", one);
  option.ledger.name(option.ledger.constant(effort) + 0.0, "effort", "effort", one);
  return option;
}

study::Study study_with(std::optional<double> cells_points, std::optional<double> effort_points) {
  study::Study study;
  study.budgets.resize(2);
  study.budgets[0].figure = "logic_cells";
  study.budgets[0].limit_si = 100;
  study.budgets[0].swing = cells_points;
  study.budgets[1].figure = "effort";
  study.budgets[1].limit_si = 10;
  study.budgets[1].swing = effort_points;
  return study;
}

}  // namespace

TEST_CASE("a swing's weight is its points by the step it is for") {
  std::vector<options::Option> options;
  options.push_back(option_with("a", 60, 8));  // margins 0.4 and 0.2
  options.push_back(option_with("b", 80, 4));  // margins 0.2 and 0.6
  const study::Study study = decision::with_swing_weights(study_with(100, 50), options);
  // 100 / 0.2 = 500 and 50 / 0.4 = 125, with a mean of 1.
  CHECK(study.budgets[0].weight == Approx(1.6));
  CHECK(study.budgets[1].weight == Approx(0.4));
}

TEST_CASE("options that are alike in a budget give it no weight, and without swings the weights stay") {
  std::vector<options::Option> options;
  options.push_back(option_with("a", 60, 8));
  options.push_back(option_with("b", 60, 4));
  const study::Study study = decision::with_swing_weights(study_with(100, 50), options);
  CHECK(study.budgets[0].weight == 0);
  CHECK(study.budgets[1].weight == Approx(2));
  CHECK(decision::with_swing_weights(study_with({}, {}), options).budgets[0].weight == 1);
}

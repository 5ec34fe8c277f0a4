#include "decision/option_samples.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::decision;

namespace {

// Two options that share the input "volume" and have one of their own each.
std::vector<options::Option> two_options() {
  std::vector<options::Option> all(2);
  const figures::Unit one = figures::parse_unit("1");
  for (std::size_t i = 0; i < 2; ++i) {
    options::Option& option = all[i];
    option.id = i == 0 ? "first" : "second";
    const auto input = [&](const std::string& key, const figures::Range& range) {
      return option.ledger.input(
          {.key = key, .label = key, .range = range, .unit = one, .source = {}, .correlation = ""});
    };
    const auto volume = input("volume", {1, 2, 3});
    const auto own = input(option.id + ".own", {0, 1, 2});
    option.ledger.name(volume + 0.0, "volume_seen", "volume", one);
    option.ledger.name(volume + own, "logic_cells", "cells", one);
    option.implied_limits.push_back({"volume_seen", 2.5, "volume that can be made"});
  }
  return all;
}

study::Study wish_for_few_cells() {
  study::Study study;
  study::Budget budget;
  budget.figure = "logic_cells";
  budget.limit_si = 4;
  budget.unit = figures::parse_unit("1");
  budget.strength = study::Strength::wish;
  study.budgets = {budget, budget};
  study.budgets[1].figure = "not_there";
  study.budgets[1].weight = 0;
  return study;
}

}  // namespace

TEST_CASE("Options share the samples of common inputs, and margins and limits follow from the figures") {
  const auto all = two_options();
  const study::Study study = wish_for_few_cells();
  const SampledOptions sampled = sample_options(all, study, {512, 1, 1});
  const OptionSamples& first = sampled.options[0];
  const OptionSamples& second = sampled.options[1];
  REQUIRE(first.keys == std::vector<std::string>{"logic_cells", "volume_seen"});
  CHECK(first.range[1] == second.range[1]);
  CHECK(first.range[0] != second.range[0]);
  CHECK(first.typical == std::vector<double>{3, 2});
  CHECK(first.limits.size() == 2);
  const double* volume = sampled.table.column("volume");
  const double* own = sampled.table.column("first.own");
  for (Eigen::Index i = 0; i < 512; ++i) {
    REQUIRE(first.margins(i, 0) == Approx((4 - volume[i] - own[i]) / 4));
    REQUIRE(first.margins(i, 1) == 0);
    REQUIRE(first.holds(i) == (volume[i] <= 2.5 ? 1 : 0));
  }
  CHECK(first.shares_met[1] == Approx(first.holds.mean()));
  const Eigen::ArrayXXd worth = worth_of(sampled, study);
  for (Eigen::Index i = 0; i < 512; ++i) {
    REQUIRE(worth(i, 0) == Approx(first.holds(i) == 1 ? first.margins(i, 0) : -1));
  }
}

TEST_CASE("Samples are the same for any number of threads, and other for another seed") {
  const auto all = two_options();
  const auto margins = [&](std::uint64_t seed, unsigned threads) {
    return sample_options(all, wish_for_few_cells(), {300, seed, threads}).options[1].margins;
  };
  CHECK((margins(4, 1) == margins(4, 3)).all());
  CHECK((margins(4, 1) != margins(5, 1)).any());
}

TEST_CASE("Quantiles are those of the sorted column") {
  Eigen::ArrayXd column(101);
  for (Eigen::Index i = 0; i <= 100; ++i) column(i) = static_cast<double>(i * 37 % 101);
  CHECK(quantiles(column, 0.05, 0.95) == std::pair<double, double>(5, 95));
  CHECK(quantiles(column, 0.5, 0.5) == std::pair<double, double>(50, 50));
  CHECK(quantiles(column, 0, 1) == std::pair<double, double>(0, 100));
  CHECK(quantiles(Eigen::ArrayXd::Constant(1, 3.5), 0.05, 0.95) == std::pair<double, double>(3.5, 3.5));
}

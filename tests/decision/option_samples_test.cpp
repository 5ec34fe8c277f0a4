#include "decision/option_samples.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

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

SampleBlock first_block(const std::vector<options::Option>& all, const Sampling& sampling) {
  std::vector<SampleBlock> blocks;
  (void)sample_options(all, wish_for_few_cells(), sampling,
                       [&](const SampleBlock& block) { blocks.push_back(block); });
  return blocks.at(0);
}

}  // namespace

TEST_CASE("Options share the samples of common inputs, and margins and limits follow from the figures") {
  const auto all = two_options();
  const study::Study study = wish_for_few_cells();
  const Sampling sampling{512, 1, 1};
  SampleBlock block;
  const auto sampled = sample_options(all, study, sampling, [&](const SampleBlock& taken) { block = taken; });
  REQUIRE(block.count == 512);
  const OptionSamples& first = sampled[0];
  REQUIRE(first.keys == std::vector<std::string>{"logic_cells", "volume_seen"});
  CHECK(first.range[1] == sampled[1].range[1]);
  CHECK(first.range[0] != sampled[1].range[0]);
  CHECK(first.typical == std::vector<double>{3, 2});
  CHECK(first.limits.size() == 2);
  const figures::SampleTable table = sample_inputs(all, sampling);
  const double* volume = table.column("volume");
  const double* own = table.column("first.own");
  const auto& [margins, is_possible] = block.options[0];
  for (Eigen::Index i = 0; i < 512; ++i) {
    REQUIRE(margins(i, 0) == Approx((4 - volume[i] - own[i]) / 4));
    REQUIRE(margins(i, 1) == 0);
    REQUIRE(is_possible(i) == (volume[i] <= 2.5 ? 1 : 0));
  }
  CHECK(first.shares_met[1] == Approx(is_possible.mean()));
  CHECK(first.share_possible == Approx(is_possible.mean()));
  const Eigen::ArrayXXd worth = worth_of(block, study);
  for (Eigen::Index i = 0; i < 512; ++i) {
    REQUIRE(worth(i, 0) == Approx(is_possible(i) == 1 ? margins(i, 0) : -1));
  }
}

TEST_CASE("Samples are the same for any number of threads, and other for another seed") {
  const auto all = two_options();
  const auto margins = [&](std::uint64_t seed, unsigned threads) {
    return first_block(all, {300, seed, threads}).options[1].values;
  };
  CHECK((margins(4, 1) == margins(4, 3)).all());
  CHECK((margins(4, 1) != margins(5, 1)).any());
}

TEST_CASE("Many samples come in blocks, and their quantiles are those of all together") {
  const auto all = two_options();
  const Sampling sampling{3 * block_size + 100, 7, 2};
  const figures::SampleTable table = sample_inputs(all, sampling);
  const double* volume = table.column("volume");
  Eigen::Index seen = 0;
  double possible = 0;
  const auto sampled = sample_options(all, wish_for_few_cells(), sampling, [&](const SampleBlock& block) {
    REQUIRE(block.first == seen);
    for (Eigen::Index i = 0; i < block.count; ++i) {
      REQUIRE(block.options[0].is_possible(i) == (volume[seen + i] <= 2.5 ? 1 : 0));
    }
    possible += block.options[0].is_possible.sum();
    seen += block.count;
  });
  CHECK(seen == table.count());
  CHECK(sampled[0].share_possible == possible / static_cast<double>(seen));
  std::vector<double> sorted(volume, volume + seen);
  std::sort(sorted.begin(), sorted.end());
  const auto point = [&](double share) {
    return sorted[static_cast<std::size_t>(std::lround(share * static_cast<double>(seen - 1)))];
  };
  CHECK(sampled[0].range[1] == std::pair(point(0.05), point(0.95)));
}

#include "decision/ranking.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace portweigh;
using namespace portweigh::decision;

namespace {

// An option whose figures are inputs: enough to rank.
options::Option option_with(const std::string& id, const figures::Range& power, const figures::Range& cost) {
  options::Option option;
  option.id = id;
  const auto input = [&](const std::string& key, const figures::Range& range, const char* unit) {
    const auto figure = option.ledger.input({.key = id + "." + key,
                                             .label = key,
                                             .range = range,
                                             .unit = figures::parse_unit(unit),
                                             .source = {},
                                             .correlation = ""});
    option.ledger.name(figure, key, key, figures::parse_unit(unit));
  };
  input("active_power", power, "W");
  input("unit_cost", cost, "USD");
  return option;
}

study::Budget budget(const std::string& figure, double limit, const char* unit, study::Strength strength) {
  study::Budget made;
  made.figure = figure;
  made.limit_si = limit;
  made.unit = figures::parse_unit(unit);
  made.strength = strength;
  return made;
}

study::Study study_with_budgets() {
  study::Study study;
  study.currency = "USD";
  study.budgets = {budget("active_power", 0.010, "W", study::Strength::hard),
                   budget("unit_cost", 1.0, "USD", study::Strength::hard)};
  return study;
}

using figures::exactly;

}  // namespace

TEST_CASE("Options that meet every hard budget come first, then the surer, then the larger margin") {
  std::vector<options::Option> all;
  all.push_back(option_with("too-hungry", exactly(0.012), exactly(0.2)));
  all.push_back(option_with("unsure", {0.004, 0.0095, 0.013}, exactly(0.5)));
  all.push_back(option_with("sure", exactly(0.0092), exactly(0.9)));
  all.push_back(option_with("sure-and-cheap", exactly(0.009), exactly(0.5)));
  const Ranking ranking = rank(all, study_with_budgets(), {4096, 1, 1});
  REQUIRE(ranking.ranked.size() == 4);
  const auto id = [&](std::size_t place) { return all[ranking.ranked[place].option].id; };
  CHECK(id(0) == "sure-and-cheap");
  CHECK(id(1) == "sure");
  CHECK(id(2) == "unsure");
  CHECK(id(3) == "too-hungry");
  CHECK_FALSE(ranking.ranked[3].meets_budgets);
  CHECK(ranking.ranked[1].is_dominated);
  CHECK(ranking.ranked[1].dominated_by == "sure-and-cheap");
}

TEST_CASE("An option that is less likely to fit dominates none that fits") {
  // The clock is a limit of the option itself: typically kept, though not by three samples in ten.
  std::vector<options::Option> all;
  all.push_back(option_with("fast", exactly(0.008), exactly(0.5)));
  all.push_back(option_with("frugal", exactly(0.002), exactly(0.5)));
  const auto use = all[1].ledger.input({.key = "frugal.use",
                                        .label = "use",
                                        .range = {0.5, 0.8, 1.3},
                                        .unit = figures::parse_unit("1"),
                                        .source = {},
                                        .correlation = ""});
  all[1].ledger.name(use, "clock_use", "use of the clock", figures::parse_unit("%"));
  all[1].implied_limits.push_back({"clock_use", 1.0, "highest clock"});
  const Ranking ranking = rank(all, study_with_budgets(), {4096, 1, 1});
  CHECK(all[ranking.ranked[0].option].id == "fast");
  CHECK(ranking.ranked[1].meets_budgets);
  CHECK(ranking.ranked[1].probability_meets_budgets < 0.9);
  CHECK_FALSE(ranking.ranked[0].is_dominated);
  CHECK_FALSE(ranking.ranked[1].is_dominated);
}

TEST_CASE("A dominated option comes after the one that dominates it, also where margins can't tell") {
  // Both margins of both options end at -1, and the second budget weighs nothing.
  std::vector<options::Option> all;
  all.push_back(option_with("a-worse", exactly(0.5), exactly(7)));
  all.push_back(option_with("b-better", exactly(0.5), exactly(6)));
  study::Study study = study_with_budgets();
  study.budgets[1].strength = study::Strength::wish;
  study.budgets[1].weight = 0;
  const Ranking ranking = rank(all, study, {64, 1, 1});
  CHECK(all[ranking.ranked[0].option].id == "b-better");
  CHECK_FALSE(ranking.ranked[0].is_dominated);
  CHECK(ranking.ranked[1].dominated_by == "b-better");
}

TEST_CASE("Whatever the figures, the first option is not dominated, and the others by earlier ones") {
  std::mt19937_64 random(11);
  std::uniform_int_distribution<int> step(1, 6);
  for (int round = 0; round < 40; ++round) {
    std::vector<options::Option> all;
    for (int i = 0; i < 12; ++i) {
      // Few values, so that many are equal; a third of them above their limits.
      const double power = 0.0025 * step(random);
      all.push_back(option_with("o" + std::to_string(i),
                                {0.8 * power, power, power * (1 + 0.1 * step(random))},
                                exactly(0.25 * step(random))));
    }
    study::Study study = study_with_budgets();
    study.budgets[round % 2].weight = round % 3;
    study.budgets[1].strength = round % 4 == 0 ? study::Strength::wish : study::Strength::hard;
    if (round % 5 == 0) study.budgets[0].limit_si = 1e-6;
    const Ranking ranking = rank(all, study, {256, 1, 1});
    CHECK_FALSE(ranking.ranked[0].is_dominated);
    const auto percent = [](const RankedOption& of) {
      return std::lround(100 * of.probability_meets_budgets);
    };
    for (const RankedOption& a : ranking.ranked) {
      bool is_dominated = false;
      for (const RankedOption& b : ranking.ranked) {
        const bool fits_no_worse = b.meets_budgets >= a.meets_budgets && percent(b) >= percent(a) &&
                                   (a.meets_budgets || b.meets_budgets || b.worst_excess <= a.worst_excess);
        const bool values_no_worse =
            b.budgets[0].value <= a.budgets[0].value && b.budgets[1].value <= a.budgets[1].value;
        const bool is_better =
            b.budgets[0].value < a.budgets[0].value || b.budgets[1].value < a.budgets[1].value;
        if (!fits_no_worse || !values_no_worse || !is_better) continue;
        is_dominated = true;
        CHECK(b.rank < a.rank);
      }
      CHECK(a.is_dominated == is_dominated);
    }
  }
}

TEST_CASE("Options that lack a figure of a budget are not compared by position") {
  std::vector<options::Option> all;
  all.push_back(option_with("whole", exactly(0.008), exactly(0.5)));
  options::Option& partial = all.emplace_back();
  partial.id = "partial";
  const auto cost = partial.ledger.input({.key = "partial.cost",
                                          .label = "cost",
                                          .range = exactly(0.001),
                                          .unit = figures::parse_unit("USD"),
                                          .source = {},
                                          .correlation = ""});
  partial.ledger.name(cost, "unit_cost", "unit cost", figures::parse_unit("USD"));
  for (const RankedOption& ranked : rank(all, study_with_budgets(), {64, 1, 1}).ranked) {
    CHECK_FALSE(ranked.is_dominated);
  }
}

TEST_CASE("Where nothing fits, the option nearest to fitting comes first") {
  // A limit of 1 uW in place of one that some keep: 3.63 mW misses it by less than 10.3 mW, whatever their
  // cost.
  std::vector<options::Option> all;
  all.push_back(option_with("cheap", exactly(0.0103), exactly(0.1)));
  all.push_back(option_with("near", exactly(0.00363), exactly(0.9)));
  study::Study study = study_with_budgets();
  study.budgets[0].limit_si = 1e-6;
  const Ranking ranking = rank(all, study, {64, 1, 1});
  CHECK(all[ranking.ranked[0].option].id == "near");
  CHECK(ranking.ranked[0].worst_excess == Approx(3630));
  CHECK(ranking.ranked[1].worst_excess == Approx(10300));
  CHECK(ranking.ranked[0].budgets[0].margin == -1);
  CHECK(ranking.ranked[0].weighted_margin < ranking.ranked[1].weighted_margin);
}

TEST_CASE("The probability of meeting a budget is that of the triangular distribution") {
  std::vector<options::Option> all;
  all.push_back(option_with("only", {0.006, 0.008, 0.014}, exactly(0.5)));
  const Ranking ranking = rank(all, study_with_budgets(), {1 << 14, 1, 1});
  // F(10) = 1 - (14-10)^2 / ((14-6)(14-8))
  CHECK(ranking.ranked[0].probability_meets_budgets == Approx(1 - 16.0 / 48.0).margin(1e-3));
  CHECK(ranking.ranked[0].figures.at("active_power").low < 0.008);
  CHECK(ranking.ranked[0].figures.at("active_power").high > 0.008);
}

TEST_CASE("First-rank shares follow the weights") {
  // Margins (1,0), (0,1) and (.6,.6): analytic shares of the first rank .4, .4, .2 (SMAA-2, Lahdelma &
  // Salminen, Oper. Res. 49(3), 2001; [C] two criteria, uniform weights).
  std::vector<options::Option> all;
  all.push_back(option_with("a1", exactly(0.0), exactly(1.0)));
  all.push_back(option_with("a2", exactly(0.010), exactly(0.0)));
  all.push_back(option_with("a3", exactly(0.004), exactly(0.4)));
  const Ranking ranking = rank(all, study_with_budgets(), {1 << 16, 3, 1});
  for (const RankedOption& ranked : ranking.ranked) {
    const std::string& id = all[ranked.option].id;
    CHECK(ranked.first_rank_share == Approx(id == "a3" ? 0.2 : 0.4).margin(0.005));
  }
}

TEST_CASE("An implied limit rejects at typical values like a hard budget") {
  std::vector<options::Option> all;
  all.push_back(option_with("overfull", exactly(0.001), exactly(0.1)));
  all.front().ledger.name(all.front().ledger.constant(1.2), "cell_use", "cells used",
                          figures::parse_unit("%"));
  all.front().implied_limits.push_back({"cell_use", 1.0, "cells that can be filled"});
  const Ranking ranking = rank(all, study_with_budgets(), {64, 1, 1});
  CHECK_FALSE(ranking.ranked[0].meets_budgets);
  CHECK(ranking.ranked[0].budgets.back().is_implied);
  CHECK(ranking.ranked[0].budgets.back().margin == Approx(-0.2));
}

TEST_CASE("The ranking is the same for any number of threads") {
  std::vector<options::Option> all;
  for (int i = 0; i < 9; ++i) {
    all.push_back(option_with("o" + std::to_string(i), {0.001 * i, 0.001 * i + 0.002, 0.001 * i + 0.006},
                              {0.1, 0.2 + 0.1 * i, 1.5}));
  }
  const Ranking one = rank(all, study_with_budgets(), {1024, 5, 1});
  const Ranking four = rank(all, study_with_budgets(), {1024, 5, 4});
  for (std::size_t i = 0; i < one.ranked.size(); ++i) {
    CHECK(one.ranked[i].option == four.ranked[i].option);
    CHECK(one.ranked[i].first_rank_share == four.ranked[i].first_rank_share);
    CHECK(one.ranked[i].probability_meets_budgets == four.ranked[i].probability_meets_budgets);
    CHECK(one.ranked[i].rank_shares == four.ranked[i].rank_shares);
    CHECK(one.ranked[i].central_weights == four.ranked[i].central_weights);
    CHECK(one.ranked[i].regret.mean == four.ranked[i].regret.mean);
    CHECK(one.ranked[i].figures.at("active_power").high == four.ranked[i].figures.at("active_power").high);
  }
}

TEST_CASE("Central weights are the mean weights with which an option is first") {
  // Margins (1, 0), (0, 1) and (.6, .6): [C] first where the first weight is above .6, below .4, in between.
  std::vector<options::Option> all;
  all.push_back(option_with("frugal", exactly(0.0), exactly(1.0)));
  all.push_back(option_with("cheap", exactly(0.010), exactly(0.0)));
  all.push_back(option_with("even", exactly(0.004), exactly(0.4)));
  all.push_back(option_with("never", exactly(0.009), exactly(0.9)));
  const Ranking ranking = rank(all, study_with_budgets(), {1 << 14, 3, 2});
  for (const RankedOption& ranked : ranking.ranked) {
    const std::string& id = all[ranked.option].id;
    double shares = 0;
    for (const double share : ranked.rank_shares) shares += share;
    CHECK(shares == Approx(1));
    if (id == "never") {
      CHECK(ranked.central_weights.empty());
      continue;
    }
    REQUIRE(ranked.central_weights.size() == 2);
    CHECK(ranked.central_weights[0] == Approx(id == "frugal"  ? 0.8
                                              : id == "cheap" ? 0.2
                                                              : 0.5)
                                           .margin(0.005));
  }
}

TEST_CASE("Uncertain figures and weights together: the share of first ranks is that of both") {
  // One criterion: the uncertain option has the larger margin where its power is below 8 mW, and no rank
  // where it is above 10 mW. Triangular (6, 8, 14): F(8) = 1/4.
  std::vector<options::Option> all;
  all.push_back(option_with("uncertain", {0.006, 0.008, 0.014}, exactly(0.5)));
  all.push_back(option_with("steady", exactly(0.008), exactly(0.5)));
  study::Study study = study_with_budgets();
  study.budgets.pop_back();
  const Ranking ranking = rank(all, study, {1 << 14, 3, 1});
  REQUIRE(all[ranking.ranked[0].option].id == "steady");
  CHECK(ranking.ranked[0].first_rank_share == Approx(0.75).margin(0.005));
  CHECK(ranking.ranked[1].first_rank_share == Approx(0.25).margin(0.005));
  CHECK(ranking.ranked[1].rank_shares[1] == Approx(2.0 / 3 - 0.25).margin(0.005));
}

TEST_CASE("Expected and robust choice, and a broken limit is worth the lowest margin") {
  std::vector<options::Option> all;
  all.push_back(option_with("steady", exactly(0.005), exactly(0.5)));
  all.push_back(option_with("gamble", {0.0001, 0.0002, 0.012}, exactly(0.05)));
  const Ranking ranking = rank(all, study_with_budgets(), {1 << 12, 1, 1});
  REQUIRE(ranking.robust_choice);
  REQUIRE(ranking.expected_choice);
  CHECK(all[ranking.ranked[*ranking.robust_choice].option].id == "steady");
  for (const RankedOption& ranked : ranking.ranked) {
    if (all[ranked.option].id == "gamble") {
      CHECK(ranked.regret.largest == Approx(1.5));
    } else {
      CHECK(ranked.regret.expected_worth == Approx(0.5));
      CHECK(ranked.regret.largest < 0.5);
    }
  }
}

TEST_CASE("The second opinion is the closeness to the best corner of all budgets") {
  std::vector<options::Option> all;
  all.push_back(option_with("better", exactly(0.002), exactly(0.2)));
  all.push_back(option_with("worse", exactly(0.006), exactly(0.6)));
  const Ranking clear = rank(all, study_with_budgets(), {64, 1, 1});
  CHECK(clear.second_opinion == 0U);
  CHECK(*clear.ranked[0].closeness == Approx(1));
  CHECK(*clear.ranked[1].closeness == Approx(0));
  // Three options that trade power for cost.
  std::vector<options::Option> mixed;
  mixed.push_back(option_with("cheap", exactly(0.0095), exactly(0.08)));
  mixed.push_back(option_with("frugal", exactly(0.001), exactly(0.95)));
  mixed.push_back(option_with("dear", exactly(0.0099), exactly(0.99)));
  const Ranking split = rank(mixed, study_with_budgets(), {64, 1, 1});
  REQUIRE(split.second_opinion);
  CHECK(mixed[split.ranked[0].option].id == "cheap");
  // Written out: columns divided by their lengths, distances to the corners.
  const double power = std::sqrt(0.0095 * 0.0095 + 0.001 * 0.001 + 0.0099 * 0.0099);
  const double cost = std::sqrt(0.08 * 0.08 + 0.95 * 0.95 + 0.99 * 0.99);
  const auto closeness = [&](double p, double c) {
    const double best = std::hypot((p - 0.001) / power, (c - 0.08) / cost);
    const double worst = std::hypot((p - 0.0099) / power, (c - 0.99) / cost);
    return worst / (best + worst);
  };
  for (const RankedOption& ranked : split.ranked) {
    CHECK(*ranked.closeness == Approx(closeness(ranked.budgets[0].value, ranked.budgets[1].value)));
  }
}

TEST_CASE("No options give an empty ranking") {
  CHECK(rank({}, study_with_budgets(), {64, 1, 1}).ranked.empty());
}

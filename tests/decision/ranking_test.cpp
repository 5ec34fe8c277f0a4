#include "decision/ranking.hpp"

#include <catch2/catch.hpp>

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
  }
}

TEST_CASE("No options give an empty ranking") {
  CHECK(rank({}, study_with_budgets(), {64, 1, 1}).ranked.empty());
}

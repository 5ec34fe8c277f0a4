// The distribution of the cost of change against closed forms and against trying every outcome.
#include "options/money/event_distribution.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace portweigh::options;

namespace {

double probability_sum(const std::vector<Outcome>& outcomes) {
  double sum = 0;
  for (const Outcome& outcome : outcomes) sum += outcome.probability;
  return sum;
}

}  // namespace

TEST_CASE("One revision comes as often as the binomial distribution says") {
  const auto outcomes = total_distribution({{0.5, 2, 10}});
  REQUIRE(outcomes.size() == 3);
  CHECK(outcomes[0].probability == Approx(0.25));
  CHECK(outcomes[1].cost == 10);
  CHECK(outcomes[1].probability == Approx(0.5));
  CHECK(mean_of(outcomes) == Approx(10));
  CHECK(deviation_of(outcomes) == Approx(std::sqrt(50)));
  CHECK(worst_mean_of(outcomes, 0.05) == Approx(20));
  CHECK(worst_mean_of(outcomes, 0.5) == Approx(15));
  CHECK(worst_mean_of(outcomes, 1) == Approx(10));
}

// Binomial: mean n p, variance n p (1 - p); closed form of any textbook [C].
TEST_CASE("Mean and spread of several revisions add up") {
  const auto outcomes = total_distribution({{0.25, 6, 181387}, {0.01, 6, 40000}, {0.8, 1, 90000}});
  CHECK(probability_sum(outcomes) == Approx(1).epsilon(1e-12));
  CHECK(mean_of(outcomes) == Approx(0.25 * 6 * 181387 + 0.01 * 6 * 40000 + 0.8 * 90000));
  const double variance = 6 * 0.25 * 0.75 * std::pow(181387, 2) + 6 * 0.01 * 0.99 * std::pow(40000, 2) +
                          0.8 * 0.2 * std::pow(90000, 2);
  CHECK(deviation_of(outcomes) == Approx(std::sqrt(variance)).epsilon(1e-6));
}

TEST_CASE("The year begun counts with its share, certainty has no spread, nothing costs nothing") {
  CHECK(mean_of(total_distribution({{0.4, 2.5, 10}})) == Approx(10));
  CHECK(deviation_of(total_distribution({{1, 5, 10}})) == Approx(0).margin(1e-9));
  CHECK(mean_of(total_distribution({})) == 0);
  CHECK(worst_mean_of(total_distribution({}), 0.05) == 0);
}

TEST_CASE("The worst outcomes are those that a long random experiment finds") {
  const std::vector<RepeatedEvent> events = {{0.3, 5, 100}, {0.1, 5, 700}};
  const auto outcomes = total_distribution(events);
  std::mt19937_64 random(7);
  std::vector<double> sums;
  for (int life = 0; life < 200000; ++life) {
    double sum = 0;
    for (const RepeatedEvent& event : events) {
      for (int year = 0; year < 5; ++year) {
        if (std::generate_canonical<double, 53>(random) < event.chance) sum += event.cost;
      }
    }
    sums.push_back(sum);
  }
  std::sort(sums.rbegin(), sums.rend());
  double worst = 0;
  for (std::size_t i = 0; i < 10000; ++i) worst += sums[i] / 10000;
  CHECK(worst_mean_of(outcomes, 0.05) == Approx(worst).epsilon(0.01));
}

TEST_CASE("Many revisions over many years stay quick and exact in the mean") {
  std::vector<RepeatedEvent> events;
  double mean = 0;
  for (int i = 1; i <= 8; ++i) {
    events.push_back({0.05 * i, 12, 1000.0 * i * i + 17});
    mean += 0.05 * i * 12 * (1000.0 * i * i + 17);
  }
  CHECK(mean_of(total_distribution(events)) == Approx(mean).epsilon(1e-9));
}

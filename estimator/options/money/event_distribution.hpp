// What change may cost in all: the exact distribution of a sum of events that come or don't.
//
// A revision with a chance p a year over n years comes k times with the binomial probability of k out of n; a
// year begun counts with its share of p; a dated revision comes once or not. Each coming of an event costs the
// same: where the cost differs from year to year, each year is an event of its own. The distribution of the
// sum is found by convolution, no sampling. Amounts closer than a millionth of the largest possible sum are
// joined at their mean.
//
// Worked example: p = 0.5 over 2 years at 10 each: 0, 10, 20 with 1/4, 1/2, 1/4; mean 10, standard deviation
// sqrt(50); the worst 5 % have a mean of 20. Tested by tests/options/money/event_distribution_test.cpp.
#pragma once

#include <vector>

namespace portweigh::options {

struct RepeatedEvent {
  double chance = 0;  // in one trial, 0..1
  double trials = 0;  // years; a fraction is a trial with that share of the chance
  double cost = 0;    // of one event
};

struct Outcome {
  double cost = 0;
  double probability = 0;
};

// Rising costs; probabilities add up to 1.
std::vector<Outcome> total_distribution(const std::vector<RepeatedEvent>& events);

double mean_of(const std::vector<Outcome>& outcomes);
double deviation_of(const std::vector<Outcome>& outcomes);  // standard deviation
// The mean of the worst `share` of all outcomes, 0 < share <= 1.
double worst_mean_of(const std::vector<Outcome>& outcomes, double share);

}  // namespace portweigh::options

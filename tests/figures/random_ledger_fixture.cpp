#include "random_ledger_fixture.hpp"

#include <random>
#include <string>

namespace portweigh::figures::test {
namespace {

// Maps any value smoothly into 0.5..1.5, so that long chains stay finite.
Figure tame(Figure a) {
  return 0.5 + 1.0 / (1.0 + power(a, 2.0));
}

Figure smooth_operation(std::uint32_t choice, Figure a, Figure b) {
  const LookupTable curve{{0.1, 20.0}, {3.0, 0.7}, {}, {}, Scale::log_log, "curve"};
  switch (choice) {
    case 0:
      return a + b;
    case 1:
      return a - 0.25 * b;
    case 2:
      return tame(a) * tame(b);
    case 3:
      return a / tame(b);
    case 4:
      return power(tame(a), 1.7);
    case 5:
      return power(tame(a), tame(b));
    case 6:
      return log(tame(a)) + b;
    case 7:
      return exp(tame(a));
    case 8:
      return lookup(tame(a), curve);
    default:
      return -tame(a) + b;
  }
}

Figure cornered_operation(std::uint32_t choice, Figure a, Figure b) {
  const LookupTable curve{{-1.0, 0.0, 2.0}, {1.0, 3.0, 0.5}, {}, {}, Scale::linear, "steps"};
  switch (choice) {
    case 0:
      return minimum(a, b);
    case 1:
      return maximum(a, b);
    case 2:
      return round_up(tame(a) * 3.0);
    case 3:
      return round_down(tame(a) * 3.0);
    case 4:
      return at_least(a, b);
    case 5:
      return select(at_least(a, b), a, b * 0.5);
    default:
      return lookup(a, curve);
  }
}

}  // namespace

RandomLedger make_random_ledger(std::uint32_t seed, int inputs, int operations) {
  std::mt19937 random(seed);
  const auto below = [&random](std::size_t bound) { return static_cast<std::uint32_t>(random() % bound); };
  RandomLedger result;
  for (int i = 0; i < inputs; ++i) {
    const double typical = 0.75 + 0.001 * below(1000);
    result.figures.push_back(result.ledger.input({.key = "input." + std::to_string(i),
                                                  .label = "input " + std::to_string(i),
                                                  .range = {typical * 0.8, typical, typical * 1.2},
                                                  .unit = {},
                                                  .source = {"drawn at random", "random.toml", i + 1, 1},
                                                  .correlation = i % 3 == 0 ? "group" : ""}));
  }
  for (int i = 0; i < operations; ++i) {
    const auto a = result.figures[below(result.figures.size())];
    const auto b = result.figures[below(result.figures.size())];
    const bool is_cornered = below(3) == 0;
    auto figure = is_cornered ? cornered_operation(below(7), a, b) : smooth_operation(below(10), a, b);
    if (below(4) == 0) {
      figure = result.ledger.name(figure, "figure." + std::to_string(i), "figure", {});
    }
    result.figures.push_back(figure);
  }
  return result;
}

}  // namespace portweigh::figures::test

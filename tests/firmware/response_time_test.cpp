#include "firmware/response_time.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include <catch2/catch.hpp>

using namespace portweigh::firmware;

namespace {

struct SetExample {
  std::vector<double> period;
  std::vector<double> execution;
  std::vector<double> response;
};

std::vector<TimedTask> tasks_of(const SetExample& example) {
  std::vector<TimedTask> tasks;
  for (std::size_t i = 0; i < example.period.size(); ++i) {
    tasks.push_back(
        {.execution = example.execution[i], .period = example.period[i], .deadline = example.period[i]});
  }
  return tasks;
}

void check_example(const SetExample& example) {
  const auto responses = response_times(tasks_of(example));
  REQUIRE(responses.size() == example.response.size());
  for (std::size_t i = 0; i < responses.size(); ++i) {
    REQUIRE(responses[i].has_value());
    CHECK(*responses[i] == Approx(example.response[i]));
  }
}

struct IntegerTask {
  int period;
  int execution;
  int jitter;
  int blocking;
};

// Runs the schedule tick by tick from the critical instant: all tasks released together after their longest
// jitter, later instances as early as possible, the lowest priority blocking at the start. Longest
// response of the task `index` over its busy period; 0 if it does not end within `limit` ticks.
int simulated_response(const std::vector<IntegerTask>& tasks, std::size_t index, int limit) {
  std::vector<int> pending(index + 1, 0);
  int blocking = tasks[index].blocking;
  int finished = 0;
  int progress = 0;
  int worst = 0;
  for (int now = 0; now < limit; ++now) {
    for (std::size_t i = 0; i <= index; ++i) {
      const auto& task = tasks[i];
      const int first_late = now + task.jitter;  // release k is due at max(0, k T - J)
      if (now == 0) {
        pending[i] += (task.jitter / task.period + 1) * task.execution;
      } else if (first_late % task.period == 0) {
        pending[i] += task.execution;
      }
    }
    if (blocking > 0) {
      --blocking;
      continue;
    }
    const auto running = std::find_if(pending.begin(), pending.end(), [](int work) { return work > 0; });
    if (running == pending.end()) return worst;
    --*running;
    if (running - pending.begin() != static_cast<std::ptrdiff_t>(index)) continue;
    if (++progress % tasks[index].execution != 0) continue;
    // Nominal release of this instance: jitter before the critical instant, then every period.
    const int nominal = finished * tasks[index].period - tasks[index].jitter;
    worst = std::max(worst, now + 1 - nominal);
    ++finished;
  }
  return 0;
}

}  // namespace

// Method: Joseph & Pandya, Comput. J. 29(5) 1986. Sets and values are remembered from the literature, which
// is not named, and the arithmetic was redone by a separate program [M+C].
TEST_CASE("response-time examples of the literature") {
  check_example({{5, 7, 12}, {2, 2, 2}, {2, 4, 10}});
  check_example({{7, 12, 20}, {3, 3, 5}, {3, 6, 20}});
  check_example({{20, 40, 80}, {5, 10, 40}, {5, 15, 80}});
  check_example({{100, 150, 350}, {40, 40, 100}, {40, 80, 300}});
  const auto last = response_times(tasks_of({{4, 5, 6, 11}, {1, 1, 2, 1}, {}}));
  REQUIRE(last[3].has_value());
  CHECK(*last[3] == Approx(10));
}

// Davis, Burns, Bril & Lukkien, Real-Time Systems 35, 2007 [M+C]
TEST_CASE("messages that cannot be interrupted") {
  const std::vector<TimedTask> messages = {{.execution = 1, .period = 2.5, .deadline = 2.5},
                                           {.execution = 1, .period = 3.5, .deadline = 3.25},
                                           {.execution = 1, .period = 3.5, .deadline = 3.25}};
  const auto responses = message_response_times(messages, 1e-3);
  REQUIRE(responses[2].has_value());
  CHECK(*responses[0] == Approx(2));
  CHECK(*responses[1] == Approx(3));
  CHECK(*responses[2] == Approx(3.5));
}

// Liu & Layland, n (2^(1/n) - 1) [C]
TEST_CASE("utilisation bound") {
  CHECK(liu_layland_bound(1) == Approx(1));
  CHECK(liu_layland_bound(2) == Approx(0.828427).epsilon(1e-6));
  CHECK(liu_layland_bound(3) == Approx(0.779763).epsilon(1e-6));
  CHECK(liu_layland_bound(4) == Approx(0.756828).epsilon(1e-6));
  CHECK(liu_layland_bound(5) == Approx(0.743492).epsilon(1e-6));
  CHECK(liu_layland_bound(1'000'000) == Approx(std::log(2.0)).epsilon(1e-6));
  const auto tasks = tasks_of({{5, 7, 12}, {2, 2, 2}, {}});
  CHECK(utilisation(tasks) == Approx(0.8524).epsilon(1e-4));  // above the bound, still schedulable [C]
}

TEST_CASE("a simulated schedule agrees on 1,000 random task sets") {
  std::mt19937 random(20240611);
  const auto draw = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  int bounded = 0;
  int beyond_period = 0;
  for (int set = 0; set < 1000; ++set) {
    std::vector<IntegerTask> tasks;
    const int count = draw(2, 6);
    for (int i = 0; i < count; ++i) {
      const int period = draw(4, 60);
      tasks.push_back({.period = period,
                       .execution = draw(1, std::max(1, 2 * period / (count + 1))),
                       .jitter = set % 2 == 0 ? 0 : draw(0, period),
                       .blocking = set % 3 == 0 ? draw(0, 8) : 0});
    }
    std::vector<TimedTask> timed;
    for (const auto& task : tasks) {
      timed.push_back({.execution = static_cast<double>(task.execution),
                       .period = static_cast<double>(task.period),
                       .deadline = static_cast<double>(task.period),
                       .jitter = static_cast<double>(task.jitter),
                       .blocking = static_cast<double>(task.blocking)});
    }
    const auto responses = response_times(timed);
    double used = 0;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
      used += timed[i].execution / timed[i].period;
      if (used > 1 - 1e-3) {
        // Just full or overfull: the busy period may be longer than a simulation can follow.
        if (used > 1 + 1e-9) CHECK_FALSE(responses[i].has_value());
        continue;
      }
      REQUIRE(responses[i].has_value());
      const int simulated = simulated_response(tasks, i, 2'000'000);
      INFO("set " << set << " task " << i);
      REQUIRE(*responses[i] == Approx(simulated));
      ++bounded;
      if (simulated > tasks[i].period) ++beyond_period;
    }
  }
  CHECK(bounded > 2000);
  CHECK(beyond_period > 100);  // the sets do exercise deadlines beyond the period
}

TEST_CASE("the lowest allowed clock is found, and what sets it") {
  // 1,000 cycles every 100 us need 10 MHz; 195 us for 1,500 cycles under that load need more.
  const std::vector<CycleTask> tasks = {
      {.name = "edge", .cycles = 1000, .period_s = 100e-6, .deadline_s = 100e-6},
      {.name = "turn-round", .cycles = 1500, .period_s = 1e-3, .deadline_s = 195e-6}};
  const std::vector<double> clocks = {48e6, 8e6, 16e6, 32e6};
  const auto choice = lowest_clock(tasks, clocks);
  // 16 MHz: edge 62.5 us, turn-round 93.75 us of work and two edges: 218.75 us, too late.
  REQUIRE(choice.clock_hz.has_value());
  CHECK(*choice.clock_hz == 32e6);
  CHECK(choice.limiting_task == "turn-round");
  CHECK(*choice.next_lower_clock_hz == 16e6);
  REQUIRE(choice.next_lower_responses[1].response_s.has_value());
  CHECK(*choice.next_lower_responses[1].response_s == Approx(281.25e-6));
  CHECK(*choice.responses[1].response_s == Approx(78.125e-6));
  CHECK(choice.responses[1].slack_s == Approx(195e-6 - 78.125e-6));
  CHECK(choice.utilisation == Approx(0.3125 + 0.046875));
}

TEST_CASE("no clock may be enough, and wait states may make a higher clock slower") {
  const std::vector<CycleTask> tasks = {
      {.name = "edge", .cycles = 1000, .period_s = 30e-6, .deadline_s = 30e-6}};
  const std::vector<double> clocks = {8e6, 16e6};
  const auto none_fits = lowest_clock(tasks, clocks);
  CHECK_FALSE(none_fits.clock_hz.has_value());
  CHECK(none_fits.limiting_task == "edge");
  const std::vector<double> higher = {30e6, 36e6, 48e6};
  const auto stretch = [](double clock_hz) { return clock_hz > 33e6 ? 1.5 : 1.0; };
  CHECK(*lowest_clock(tasks, higher).clock_hz == 36e6);
  CHECK_FALSE(lowest_clock(tasks, higher, stretch).clock_hz.has_value());
}

TEST_CASE("the quick verdict is that of the full analysis on 2,000 random task sets") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> share(0, 1);
  int late = 0;
  for (int run = 0; run < 2000; ++run) {
    std::vector<CycleTask> tasks(1 + random() % 6);
    for (CycleTask& task : tasks) {
      task.period_s = 1e-6 * (10 + 200 * share(random));
      task.deadline_s = task.period_s * (0.3 + 2 * share(random));
      task.jitter_s = share(random) < 0.5 ? 0 : 0.3 * task.period_s * share(random);
      task.cycles = 1 + 2e6 * task.period_s * share(random);
      task.blocking_cycles = 12 * share(random);
    }
    const double clock_hz = 1e6 * (1 + 8 * share(random));
    const auto responses = analyse(tasks, clock_hz);
    const bool holds = std::all_of(responses.begin(), responses.end(),
                                   [](const auto& response) { return response.meets_deadline; });
    CHECK(meets_all_deadlines(tasks, clock_hz) == holds);
    late += holds ? 0 : 1;
  }
  CHECK(late > 400);
  CHECK(late < 1600);
}

TEST_CASE("nonsense is refused") {
  const std::vector<TimedTask> bad = {{.execution = 1, .period = 0, .deadline = 1}};
  CHECK_THROWS_AS(response_times(bad), std::invalid_argument);
  const std::vector<CycleTask> tasks;
  CHECK_THROWS_AS(lowest_clock(tasks, {}), std::invalid_argument);
  CHECK_THROWS_AS(liu_layland_bound(0), std::invalid_argument);
}

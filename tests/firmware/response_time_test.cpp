#include "firmware/response_time.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>

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

TEST_CASE("cycles become times at a clock") {
  const std::vector<CycleTask> tasks = {
      {.name = "edge", .cycles = 1000, .period_s = 100e-6, .deadline_s = 100e-6},
      {.name = "turn-round", .cycles = 1500, .period_s = 1e-3, .deadline_s = 195e-6}};
  // 16 MHz: edge 62.5 us, turn-round 93.75 us of work and three edges: 281.25 us, too late.
  const auto late = analyse(tasks, 16e6);
  CHECK(late[0].meets_deadline);
  CHECK_FALSE(late[1].meets_deadline);
  CHECK(*late[1].response_s == Approx(281.25e-6));
  const auto in_time = analyse(tasks, 32e6);
  CHECK(in_time[1].meets_deadline);
  CHECK(in_time[1].name == "turn-round");
  CHECK(*in_time[1].response_s == Approx(78.125e-6));
  CHECK(in_time[1].slack_s == Approx(195e-6 - 78.125e-6));
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

namespace {

// Frames (work, time to the next) as activations one time unit apart, most of them of no work.
std::vector<double> sums_of(const std::vector<std::pair<int, int>>& frames) {
  std::vector<double> units;
  for (const auto& [work, gap] : frames) {
    units.push_back(work);
    units.insert(units.end(), static_cast<std::size_t>(gap - 1), 0.0);
  }
  std::vector<double> sums(units.size(), 0.0);
  for (std::size_t start = 0; start < units.size(); ++start) {
    double sum = 0;
    for (std::size_t n = 0; n < units.size(); ++n) {
      sum += units[(start + n) % units.size()];
      sums[n] = std::max(sums[n], sum);
    }
  }
  return sums;
}

struct SequenceExample {
  std::vector<std::vector<std::pair<int, int>>> higher;
  double execution;
  double response;
};

void check_sequences(const SequenceExample& example) {
  std::vector<std::vector<double>> sums;
  for (const auto& frames : example.higher) sums.push_back(sums_of(frames));
  std::vector<TimedTask> tasks;
  for (const auto& each : sums) {
    tasks.push_back({.execution = each.front(), .period = 1, .deadline = 1000, .work = {each, 1}});
  }
  tasks.push_back({.execution = example.execution, .period = 1000, .deadline = 1000});
  const auto responses = response_times(tasks);
  REQUIRE(responses.back().has_value());
  CHECK(*responses.back() == Approx(example.response));
}

}  // namespace

// Worst starting frames enumerated, and a simulation by unit steps, in a program of its own [C]. No published
// example with numbers could be opened (Mok & Chen 1997; Baruah, Chen, Gorinsky & Mok, Real-Time Systems 17, 1999).
TEST_CASE("Event sequences delay a lower task by what they bring, not by their peak each time") {
  check_sequences({{{{2, 3}, {1, 3}}}, 2, 5});
  check_sequences({{{{2, 3}}}, 2, 6});  // the peak only
  check_sequences({{{{1, 5}}, {{2, 3}, {1, 3}}}, 2, 9});
  check_sequences({{{{1, 5}}, {{2, 3}}}, 2, 15});
  const std::vector<std::pair<int, int>> burst{{2, 10}, {2, 10}, {2, 10}, {2, 70}};
  check_sequences({{burst}, 20, 26});
  check_sequences({{burst}, 60, 68});
  check_sequences({{{{2, 10}}}, 60, 76});
  const std::vector<std::pair<int, int>> uneven{{5, 4}, {1, 20}, {3, 6}, {1, 30}};
  const std::vector<std::pair<int, int>> other{{4, 9}, {1, 3}, {2, 25}};
  check_sequences({{uneven, other}, 6, 19});
  check_sequences({{uneven, other}, 10, 23});
}

TEST_CASE("A task's own sequence carries what is late over to the next") {
  // 3, 1, 3, 1 ... each 2.5: the long one is late by .5, the short one catches up.
  const std::vector<double> sums{3, 4};
  const std::vector<TimedTask> tasks{{.execution = 3, .period = 2.5, .deadline = 2.5, .work = {sums, 1}}};
  CHECK(*response_times(tasks).front() == Approx(3));
  // By the peak alone it would never end.
  CHECK_FALSE(
      response_times(std::vector<TimedTask>{{.execution = 3, .period = 2.5, .deadline = 2.5}}).front());
}

TEST_CASE("nonsense is refused") {
  const std::vector<TimedTask> bad = {{.execution = 1, .period = 0, .deadline = 1}};
  CHECK_THROWS_AS(response_times(bad), std::invalid_argument);
  CHECK_THROWS_AS(analyse({}, 0), std::invalid_argument);
}

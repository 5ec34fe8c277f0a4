#include "firmware/response_time.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

// Times are compared with this relative tolerance, so that 3 x 0.1 is not later than 0.3.
constexpr double tolerance = 1e-9;
// A task whose busy period holds more instances than this is taken as unbounded.
constexpr std::size_t instance_limit = 100'000;
constexpr std::size_t iteration_limit = 1'000'000;

double releases(double window, double period) {
  return std::ceil(window / period - tolerance);
}

// Of so many consecutive activations, a whole number.
double work_of(const TimedTask& task, double activations) {
  const auto& sums = task.work.sums;
  if (sums.empty()) return activations * task.execution;
  const auto length = static_cast<double>(sums.size());
  const double rounds = std::floor(activations / length);
  const auto rest = static_cast<std::size_t>(activations - rounds * length);
  return task.work.unit * (rounds * sums.back() + (rest > 0 ? sums[rest - 1] : 0));
}

// In the long run.
double utilisation(const TimedTask& task) {
  const double length = task.work.sums.empty() ? 1 : static_cast<double>(task.work.sums.size());
  return work_of(task, length) / (length * task.period);
}

// Demand of higher priorities in a window, each released as early as its jitter allows.
double interference(std::span<const TimedTask> higher, double window) {
  double sum = 0;
  for (const auto& task : higher) sum += work_of(task, releases(window + task.jitter, task.period));
  return sum;
}

bool is_overloaded(std::span<const TimedTask> higher, const TimedTask& task) {
  double used = utilisation(task);
  for (const auto& other : higher) used += utilisation(other);
  return used > 1 + tolerance;
}

// Smallest w with w = own + interference(w); nullopt if there is none.
std::optional<double> fixed_point(std::span<const TimedTask> higher, double own) {
  double w = own;
  for (std::size_t i = 0; i < iteration_limit; ++i) {
    const double next = own + interference(higher, w);
    if (next <= w * (1 + tolerance)) return next;
    w = next;
  }
  return std::nullopt;
}

void require_valid(std::span<const TimedTask> tasks) {
  for (const auto& task : tasks) {
    const bool is_valid = task.execution >= 0 && task.period > 0 && task.deadline > 0 && task.jitter >= 0 &&
                          task.blocking >= 0 && std::isfinite(task.execution + task.jitter + task.blocking);
    if (!is_valid) throw std::invalid_argument("task with a negative or missing time");
  }
}

std::optional<double> response_time(std::span<const TimedTask> higher, const TimedTask& task) {
  if (is_overloaded(higher, task)) return std::nullopt;
  double worst = 0;
  for (std::size_t q = 0; q < instance_limit; ++q) {
    const double own = work_of(task, static_cast<double>(q + 1)) + task.blocking;
    const auto w = fixed_point(higher, own);
    if (!w) return std::nullopt;
    worst = std::max(worst, task.jitter + *w - static_cast<double>(q) * task.period);
    // The busy period ends if this instance is done before the next is released.
    if (*w + task.jitter <= static_cast<double>(q + 1) * task.period * (1 + tolerance)) return worst;
  }
  return std::nullopt;
}

// The verdict only: as soon as an instance is late there is no need to follow the busy period to its end. An
// instance takes at least its own work longer than the one before, which is where its search begins.
bool meets_its_deadline(std::span<const TimedTask> higher, const TimedTask& task) {
  if (is_overloaded(higher, task)) return false;
  double w = task.blocking;
  double done = 0;
  std::size_t iterations = 0;
  for (std::size_t q = 0; q < instance_limit; ++q) {
    const double work = work_of(task, static_cast<double>(q + 1));
    const double own = work + task.blocking;
    const double released = static_cast<double>(q) * task.period;
    w += work - done;
    done = work;
    for (bool has_settled = false; !has_settled;) {
      const double slack = task.deadline - (task.jitter + w - released);
      if (slack < -tolerance * task.deadline || ++iterations > iteration_limit) return false;
      const double next = own + interference(higher, w);
      has_settled = next <= w * (1 + tolerance);
      w = next;
    }
    if (task.deadline - (task.jitter + w - released) < -tolerance * task.deadline) return false;
    if (w + task.jitter <= static_cast<double>(q + 1) * task.period * (1 + tolerance)) return true;
  }
  return false;
}

TimedTask at_clock(const CycleTask& task, double clock_hz) {
  return {.execution = task.cycles / clock_hz,
          .period = task.period_s,
          .deadline = task.deadline_s,
          .jitter = task.jitter_s,
          .blocking = task.blocking_cycles / clock_hz,
          .work = {task.work.sums, task.work.unit / clock_hz}};
}

}  // namespace

std::vector<std::optional<double>> response_times(std::span<const TimedTask> tasks) {
  require_valid(tasks);
  std::vector<std::optional<double>> responses;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    responses.push_back(response_time(tasks.first(i), tasks[i]));
  }
  return responses;
}

std::vector<TaskResponse> analyse(std::span<const CycleTask> tasks, double clock_hz) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  std::vector<TimedTask> timed;
  for (const auto& task : tasks) timed.push_back(at_clock(task, clock_hz));
  const auto times = response_times(timed);
  std::vector<TaskResponse> responses;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    const double slack = times[i] ? timed[i].deadline - *times[i] : -std::numeric_limits<double>::infinity();
    responses.push_back({.name = tasks[i].name,
                         .response_s = times[i],
                         .slack_s = slack,
                         .meets_deadline = times[i].has_value() && slack >= -tolerance * timed[i].deadline});
  }
  return responses;
}

bool meets_all_deadlines(std::span<const CycleTask> tasks, double clock_hz) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  std::vector<TimedTask> timed;
  for (const auto& task : tasks) timed.push_back(at_clock(task, clock_hz));
  require_valid(timed);
  for (std::size_t i = 0; i < timed.size(); ++i) {
    if (!meets_its_deadline(std::span<const TimedTask>(timed).first(i), timed[i])) return false;
  }
  return true;
}

}  // namespace portweigh::firmware

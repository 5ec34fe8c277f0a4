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

// Demand of higher priorities in a window, each released as early as its jitter allows.
double interference(std::span<const TimedTask> higher, double window) {
  double sum = 0;
  for (const auto& task : higher) sum += releases(window + task.jitter, task.period) * task.execution;
  return sum;
}

// Smallest w with w = own + interference(w + extra); nullopt if there is none.
std::optional<double> fixed_point(std::span<const TimedTask> higher, double own, double extra) {
  double w = own;
  for (std::size_t i = 0; i < iteration_limit; ++i) {
    const double next = own + interference(higher, w + extra);
    if (next <= w * (1 + tolerance)) return next;
    w = next;
  }
  return std::nullopt;
}

// Longest time the bus or core is busy with these and a blocking: t = B + interference(t).
std::optional<double> busy_period(std::span<const TimedTask> tasks, double blocking) {
  double length = blocking;
  for (const auto& task : tasks) length += task.execution;
  for (std::size_t i = 0; i < iteration_limit; ++i) {
    const double next = blocking + interference(tasks, length);
    if (next <= length * (1 + tolerance)) return next;
    length = next;
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
  double used = task.execution / task.period;
  for (const auto& other : higher) used += other.execution / other.period;
  if (used > 1 + tolerance) return std::nullopt;
  double worst = 0;
  for (std::size_t q = 0; q < instance_limit; ++q) {
    const double own = static_cast<double>(q + 1) * task.execution + task.blocking;
    const auto w = fixed_point(higher, own, 0);
    if (!w) return std::nullopt;
    worst = std::max(worst, task.jitter + *w - static_cast<double>(q) * task.period);
    // The busy period ends if this instance is done before the next is released.
    if (*w + task.jitter <= static_cast<double>(q + 1) * task.period * (1 + tolerance)) return worst;
  }
  return std::nullopt;
}

// The verdict only: as soon as an instance is late there is no need to follow the busy period to its end. An
// instance takes at least one execution longer than the one before, which is where its search begins.
bool meets_its_deadline(std::span<const TimedTask> higher, const TimedTask& task) {
  double used = task.execution / task.period;
  for (const auto& other : higher) used += other.execution / other.period;
  if (used > 1 + tolerance) return false;
  double w = task.blocking;
  std::size_t iterations = 0;
  for (std::size_t q = 0; q < instance_limit; ++q) {
    const double own = static_cast<double>(q + 1) * task.execution + task.blocking;
    const double released = static_cast<double>(q) * task.period;
    w += task.execution;
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

// A message that is done before its next release may leave a higher priority waiting, so that the busy period
// goes on: its length is found first, and every instance in it is looked at.
std::optional<double> message_response_time(std::span<const TimedTask> up_to_own, double blocking,
                                            double bit_time) {
  const auto& message = up_to_own.back();
  const auto higher = up_to_own.first(up_to_own.size() - 1);
  if (utilisation(up_to_own) > 1 + tolerance) return std::nullopt;
  const auto busy = busy_period(up_to_own, blocking);
  if (!busy) return std::nullopt;
  const double instances = releases(*busy + message.jitter, message.period);
  double worst = 0;
  for (double q = 0; q < instances; ++q) {
    const auto w = fixed_point(higher, q * message.execution + blocking, bit_time);
    if (!w) return std::nullopt;
    worst = std::max(worst, message.jitter + *w + message.execution - q * message.period);
  }
  return worst;
}

TimedTask at_clock(const CycleTask& task, double clock_hz, double stretch) {
  return {.execution = task.cycles * stretch / clock_hz,
          .period = task.period_s,
          .deadline = task.deadline_s,
          .jitter = task.jitter_s,
          .blocking = task.blocking_cycles * stretch / clock_hz + task.blocking_s};
}

bool all_meet(std::span<const TaskResponse> responses) {
  return std::all_of(responses.begin(), responses.end(),
                     [](const TaskResponse& response) { return response.meets_deadline; });
}

std::string first_miss(std::span<const TaskResponse> responses) {
  const auto found = std::find_if(responses.begin(), responses.end(),
                                  [](const TaskResponse& response) { return !response.meets_deadline; });
  return found == responses.end() ? std::string() : found->name;
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

std::vector<std::optional<double>> message_response_times(std::span<const TimedTask> messages,
                                                          double bit_time) {
  require_valid(messages);
  if (!(bit_time > 0)) throw std::invalid_argument("bit time must be positive");
  std::vector<std::optional<double>> responses;
  for (std::size_t i = 0; i < messages.size(); ++i) {
    double longest_lower = 0;
    for (const auto& lower : messages.subspan(i + 1)) {
      longest_lower = std::max(longest_lower, lower.execution);
    }
    responses.push_back(
        message_response_time(messages.first(i + 1), messages[i].blocking + longest_lower, bit_time));
  }
  return responses;
}

double utilisation(std::span<const TimedTask> tasks) {
  double sum = 0;
  for (const auto& task : tasks) sum += task.execution / task.period;
  return sum;
}

double liu_layland_bound(std::size_t tasks) {
  if (tasks == 0) throw std::invalid_argument("a bound needs at least one task");
  const double n = static_cast<double>(tasks);
  return n * (std::pow(2.0, 1.0 / n) - 1.0);
}

std::vector<TaskResponse> analyse(std::span<const CycleTask> tasks, double clock_hz,
                                  const CycleStretch& stretch) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  std::vector<TimedTask> timed;
  for (const auto& task : tasks) timed.push_back(at_clock(task, clock_hz, stretch(clock_hz)));
  const auto times = response_times(timed);
  std::vector<TaskResponse> responses;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    const double slack = times[i] ? timed[i].deadline - *times[i] : -std::numeric_limits<double>::infinity();
    responses.push_back({.name = tasks[i].name,
                         .response_s = times[i],
                         .slack_s = slack,
                         .utilisation = timed[i].execution / timed[i].period,
                         .meets_deadline = times[i].has_value() && slack >= -tolerance * timed[i].deadline});
  }
  return responses;
}

bool meets_all_deadlines(std::span<const CycleTask> tasks, double clock_hz) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  std::vector<TimedTask> timed;
  for (const auto& task : tasks) timed.push_back(at_clock(task, clock_hz, 1));
  require_valid(timed);
  for (std::size_t i = 0; i < timed.size(); ++i) {
    if (!meets_its_deadline(std::span<const TimedTask>(timed).first(i), timed[i])) return false;
  }
  return true;
}

ClockChoice lowest_clock(std::span<const CycleTask> tasks, std::span<const double> allowed_clocks_hz,
                         const CycleStretch& stretch) {
  if (allowed_clocks_hz.empty()) throw std::invalid_argument("no allowed clock");
  std::vector<double> clocks(allowed_clocks_hz.begin(), allowed_clocks_hz.end());
  std::sort(clocks.begin(), clocks.end());
  ClockChoice choice;
  // Wait states make time per cycle uneven in the clock, so every clock is tried from below.
  for (const double clock_hz : clocks) {
    choice.responses = analyse(tasks, clock_hz, stretch);
    if (all_meet(choice.responses)) {
      choice.clock_hz = clock_hz;
      break;
    }
    choice.limiting_task = first_miss(choice.responses);
    choice.next_lower_clock_hz = clock_hz;
    choice.next_lower_responses = choice.responses;
  }
  for (const auto& response : choice.responses) choice.utilisation += response.utilisation;
  if (!choice.clock_hz) {
    choice.next_lower_clock_hz = std::nullopt;
    choice.next_lower_responses.clear();
  }
  return choice;
}

}  // namespace portweigh::firmware

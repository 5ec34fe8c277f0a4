// Fixed-priority response-time analysis: does every interrupt and task meet its deadline, and how slow may
// the clock be?
//
//   w_i(q) = (q+1) C_i + B_i + sum over higher priorities j of ceil((w_i(q) + J_j) / T_j) C_j
//   R_i    = max over q of  J_i + w_i(q) - q T_i          for the instances q of the busy period
//
// C execution time, T period (least time between releases), J release jitter, B blocking by lower priorities
// (masked interrupts, the longest handler that cannot be interrupted). Deadlines may exceed the period.
// Example: T 5, 7, 12; C 2, 2, 2 gives R 2, 4, 10.
// Sources: Joseph & Pandya, Comput. J. 29(5) 1986; jitter and arbitrary deadlines: Tindell, Burns & Wellings,
// Real-Time Systems 6, 1994; messages that cannot be interrupted: Davis, Burns, Bril & Lukkien,
// Real-Time Systems 35, 2007. Tested by response_time_test.cpp, also against a simulated schedule.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace portweigh::firmware {

// All times of one task set in the same unit. In a list, the first task has the highest priority.
struct TimedTask {
  double execution = 0;
  double period = 0;
  double deadline = 0;
  double jitter = 0;
  double blocking = 0;
};

// Longest time from release to completion, by task; none if it is unbounded or more than `horizon` periods.
std::vector<std::optional<double>> response_times(std::span<const TimedTask> tasks);

// The same when a started execution cannot be interrupted (bus messages). Blocking by the longest lower
// priority is found here and added to each task's own `blocking`. `bit_time` is the time unit in which a
// higher priority that arrives just at the start still wins (one bit of the bus).
// Example: C 1, 1, 1; T 2.5, 3.5, 3.5 gives R 2, 3, 3.5 (the third's second instance).
std::vector<std::optional<double>> message_response_times(std::span<const TimedTask> messages,
                                                          double bit_time);

// Share of time used: sum of C / T.
double utilisation(std::span<const TimedTask> tasks);
// n (2^(1/n) - 1): below this utilisation n tasks with deadlines equal to periods always fit.
double liu_layland_bound(std::size_t tasks);

// A task as its routine gives it: cycles, with times from the protocol. First = highest priority.
struct CycleTask {
  std::string name;
  double cycles = 0;  // worst case of one activation, interrupt entry, frame and exit included
  double period_s = 0;
  double deadline_s = 0;
  double jitter_s = 0;
  double blocking_cycles = 0;
  double blocking_s = 0;  // parts that do not shrink with the clock (wake-up, bus waits)
};

struct TaskResponse {
  std::string name;
  std::optional<double> response_s;  // none: never completes
  double slack_s = 0;                // deadline minus response; negative if missed
  double utilisation = 0;
  bool meets_deadline = false;
};

// Cycles are multiplied by stretch(clock_hz): flash wait states (wait_state_stretch of core.hpp).
using CycleStretch = std::function<double(double clock_hz)>;
inline double no_stretch(double) {
  return 1.0;
}

struct ClockChoice {
  std::optional<double> clock_hz;       // lowest allowed clock that meets all; none if no clock does
  std::vector<TaskResponse> responses;  // at that clock (at the highest if none)
  // Task that sets the clock: the first to miss at the next lower allowed clock, or at the highest clock if
  // none fits. Empty if the lowest allowed clock already does.
  std::string limiting_task;
  std::optional<double> next_lower_clock_hz;
  std::vector<TaskResponse> next_lower_responses;
  double utilisation = 0;
};

// Responses at one clock.
std::vector<TaskResponse> analyse(std::span<const CycleTask> tasks, double clock_hz,
                                  const CycleStretch& stretch = no_stretch);

// Whether all of these would meet their deadlines by `analyse`, without stretch; quicker, since a task that
// is late is not followed any further.
bool meets_all_deadlines(std::span<const CycleTask> tasks, double clock_hz);
// The lowest of `allowed_clocks_hz` (any order, positive) at which every deadline holds.
ClockChoice lowest_clock(std::span<const CycleTask> tasks, std::span<const double> allowed_clocks_hz,
                         const CycleStretch& stretch = no_stretch);

}  // namespace portweigh::firmware

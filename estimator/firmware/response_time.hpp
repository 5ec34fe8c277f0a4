// Fixed-priority response-time analysis: does every interrupt and task meet its deadline?
//
//   w_i(q) = (q+1) C_i + B_i + sum over higher priorities j of ceil((w_i(q) + J_j) / T_j) C_j
//   R_i    = max over q of  J_i + w_i(q) - q T_i          for the instances q of the busy period
//
// C execution time, T period (least time between releases), J release jitter, B blocking by lower priorities
// (masked interrupts, the longest handler that cannot be interrupted). Deadlines may exceed the period.
// Example: T 5, 7, 12; C 2, 2, 2 gives R 2, 4, 10.
// Sources: Joseph & Pandya, Comput. J. 29(5) 1986; jitter and arbitrary deadlines: Tindell, Burns & Wellings,
// Real-Time Systems 6, 1994. Tested by response_time_test.cpp, also against a simulated schedule.
#pragma once

#include <cstddef>
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

// A task as its routine gives it: cycles, with times from the protocol. First = highest priority.
struct CycleTask {
  std::string name;
  double cycles = 0;  // worst case of one activation, interrupt entry, frame and exit included
  double period_s = 0;
  double deadline_s = 0;
  double jitter_s = 0;
  double blocking_cycles = 0;
};

struct TaskResponse {
  std::string name;
  std::optional<double> response_s;  // none: never completes
  double slack_s = 0;                // deadline minus response; negative if missed
  bool meets_deadline = false;
};

// Responses at one clock.
std::vector<TaskResponse> analyse(std::span<const CycleTask> tasks, double clock_hz);

// Whether all of these would meet their deadlines by `analyse`; quicker, since a task that
// is late is not followed any further.
bool meets_all_deadlines(std::span<const CycleTask> tasks, double clock_hz);

}  // namespace portweigh::firmware

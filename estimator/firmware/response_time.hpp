// Fixed-priority response-time analysis: does every interrupt and task meet its deadline?
//
//   w_i(q) = (q+1) C_i + B_i + sum over higher priorities j of ceil((w_i(q) + J_j) / T_j) C_j
//   R_i    = max over q of  J_i + w_i(q) - q T_i          for the instances q of the busy period
//
// C execution time, T period (least time between releases), J release jitter, B blocking by lower priorities
// (masked interrupts, the longest handler that cannot be interrupted). Deadlines may exceed the period.
// Example: T 5, 7, 12; C 2, 2, 2 gives R 2, 4, 10.
// Where activations differ, k of them take S(k), the most of any k that follow each other, in place of k C: a
// byte's end comes with every twelfth edge or so, not with each. Each task is taken at its worst start for each
// window, which is never less than its worst single sequence (multiframe tasks: Mok & Chen, IEEE Trans. Softw.
// Eng. 23(10) 1997, known by its abstract). Example: C 2, 1, 2, 1 .. each 3: below it C = 2 takes 5, not 6.
// Sources: Joseph & Pandya, Comput. J. 29(5) 1986; jitter and arbitrary deadlines: Tindell, Burns & Wellings,
// Real-Time Systems 6, 1994. Tested by response_time_test.cpp, also against a simulated schedule.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace portweigh::firmware {

// Most work of 1, 2, .. consecutive activations, in multiples of `unit`; after the last the sequence begins
// again. Does not own the sums.
struct WorkSums {
  std::span<const double> sums = {};
  double unit = 1;
};

// All times of one task set in the same unit. In a list, the first task has the highest priority.
struct TimedTask {
  double execution = 0;
  double period = 0;
  double deadline = 0;
  double jitter = 0;
  double blocking = 0;
  WorkSums work = {};  // empty: each takes `execution`; else the first sum is `execution`
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
  WorkSums work = {};  // in cycles
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

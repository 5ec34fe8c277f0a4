// What a microcontroller draws in each mode: one set of formulas, for the doubles of the search and for the
// figures of a ledger.
//
//   line busy:   V (I_run f + I_run0): the main loop watches its queues while bits are on the line, common
//                practice; or, if the study says that the firmware sleeps between events,
//                V (load (I_run f + I_run0) + (1 - load) (I_sleep f + I_sleep0)),  load = cycles a second / f
//   line quiet:  V I_stop where the part wakes within the preamble of a message and no block's outputs need the
//                clock, otherwise asleep, clock on
//   detached:    V I_stop
//   wake-up:     V (I_run f + I_run0) (wake-up time + handler / f), each; where the clock goes on, the handler alone
//   ticking:     the same for each tick of timers that are counted down by firmware, as often as ticks come
// Currents are those of the core voltage chosen with the clock (operating_point.hpp).
// It may stop its clock while a cable is attached and the line is quiet if it wakes within the preamble of a
// message: `preamble_bits_to_wake` of its bits may be lost, the rest is enough to find the start. Chosen:
// three quarters of a preamble of 64 alternating bits (USB Power Delivery); 16 bits remain to recover the
// clock. Example: 48 bits at 330 kb/s are 145 us; parts of this class wake in 4 to 20 us (common practice).
// Tested by tests/options/power/operating_point_test.cpp.
#pragma once

#include <algorithm>

#include "options/power/operating_point.hpp"
#include "options/power/temperature.hpp"
#include "study/study.hpp"

namespace portweigh::options {

inline constexpr double preamble_bits_to_wake = 48;

// s that a sleeping part has for waking up.
inline double time_to_wake_s(const study::Timing& timing) {
  return preamble_bits_to_wake / timing.bit_rate.range.high;
}

inline bool wakes_within_preamble(const parts::SourcedRange& wake_up, const study::Timing& timing) {
  return wake_up.range.high < time_to_wake_s(timing);
}

inline double minimum(double a, double b) {
  return std::min(a, b);
}

// `share` of the time the first, the rest the second.
template <class Number>
Number mixed(Number share, Number first, Number second) {
  return share * first + (1.0 - share) * second;
}

// Share of a quiet time in which a timer runs: after each wake-up, as long as an answer may take.
template <class Number>
Number timers_run(Number wake_ups_hz, Number response_s, Number all) {
  return minimum(wake_ups_hz * response_s, all);
}

// What the processor has to do at which clock; the last two are constants.
template <class Number>
struct Workload {
  Number clock_hz;
  Number cycles_hz;       // of the clock, in a second with the line busy
  Number handler_cycles;  // of one wake-up
  Number tick_cycles;     // of one tick
  Number tick_hz;
  bool runs_while_quiet;  // outputs need the clock
  Number one;             // all of the time
  Number reference_k;     // at which stop currents are given
};

template <class Number>
struct ProcessorModes {
  Number run_a;
  Number sleep_a;
  Number stop_a;
  Number load;        // 0..1, line busy
  Number awake_w;     // line busy, awake all the time
  Number sleeping_w;  // line busy, asleep between events
  Number quiet_w;
  Number stopped_w;
  Number wake_up_j;        // energy of one wake-up from stop
  Number quiet_wake_up_j;  // from the mode of a quiet line
  Number ticking_w;        // beside it, while timers run
};

// `value` makes a Number of a value of the catalog or the study, as in operating_point.hpp.
template <class Number, class Value>
ProcessorModes<Number> processor_modes(const parts::Microcontroller& part, std::size_t point,
                                       const study::Study& study, const Workload<Number>& work,
                                       const Value& value) {
  const Number supply_v = value(study.supply_voltage);
  const PointCurrents<Number> at = currents_at(part, point, study.supply_voltage, value);
  Number run_a = at.run_a_per_hz * work.clock_hz + value(part.run_base_current);
  Number sleep_a = at.sleep_a_per_hz * work.clock_hz + value(part.sleep_base_current);
  if (at.added_a) {
    run_a = run_a + *at.added_a;
    sleep_a = sleep_a + *at.added_a;
  }
  const Number ambient_k = value(study.ambient);
  const Number stop_a =
      value(part.stop_current) * leakage_growth(ambient_k, work.reference_k, value(part.stop_doubling));
  const Number load = minimum(work.cycles_hz / work.clock_hz, work.one);
  const Number awake_w = supply_v * run_a;
  const Number sleeping_w = supply_v * mixed(load, run_a, sleep_a);
  const bool stops = !work.runs_while_quiet && wakes_within_preamble(part.wake_up, study.function.timing);
  const Number quiet_w = supply_v * (stops ? stop_a : sleep_a);
  const Number handler_s = work.handler_cycles / work.clock_hz;
  const Number tick_s = work.tick_cycles / work.clock_hz;
  const Number wake_up_j = awake_w * (value(part.wake_up) + handler_s);
  return {run_a,
          sleep_a,
          stop_a,
          load,
          awake_w,
          sleeping_w,
          quiet_w,
          supply_v * stop_a,
          wake_up_j,
          stops ? wake_up_j : awake_w * handler_s,
          work.tick_hz * awake_w * (stops ? value(part.wake_up) + tick_s : tick_s)};
}

}  // namespace portweigh::options

// When the clocks of a programmable-logic device stand still, and for how long an event wakes them: one set of rules,
// for the search of assignments and for the ledger.
//
//   detached:        clocks stopped, on standby current (without one: leakage and bias)
//   line quiet:      the same where the part tells its wake-up time, wakes within the preamble of a message
//                    (processor_modes.hpp) and carries no block whose outputs need the clock; otherwise clocks run
//   wake-ups:        P(clocks run, line quiet) for the wake-up time, and then as long as timers may run
//                    (processor_modes.hpp), for each message or other event that finds the clocks stopped
//   share clocked:   attached: activity + (1 - activity) (wakes wake-up time + share in which timers run)
//                    detached: wakes (wake-up time + response)
// The comparators that watch the line while attached are charged at full speed: their edge starts the clock.
// Tested by tests/options/power/fabric_modes_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "options/candidate.hpp"

namespace portweigh::options {

enum class QuietClocks {
  stopped,
  no_wake_up_told,  // in the catalog
  too_slow,         // to wake within a preamble
  needed            // by a block on the fabric
};

// `part` is the fabric of a candidate that has its blocks there.
QuietClocks quiet_clocks(const parts::ProgrammableLogic& part, const study::PortFunction& function,
                         const std::vector<EngineKind>& engine_of_block);

// For people: which rule was used.
std::string describe(QuietClocks clocks, const parts::ProgrammableLogic& part,
                     const study::PortFunction& function);

// s that one event keeps the clocks running, detached.
template <class Number>
Number awake_for_event(Number wake_up_s, Number response_s) {
  return wake_up_s + response_s;
}

// Share of all time in which the clocks run, 0..1, at typical values.
double clocked_share(const study::Study& study, const parts::ProgrammableLogic& part, QuietClocks clocks);
// The same with the assignment of blocks that leaves the clocks stopped longest.
double least_clocked_share(const study::Study& study, const parts::ProgrammableLogic& part);

// W that a fabric without a block draws more with its clocks running than with them stopped; typical values, without
// its own heat.
double running_w(const study::Study& study, const parts::ProgrammableLogic& part);

}  // namespace portweigh::options

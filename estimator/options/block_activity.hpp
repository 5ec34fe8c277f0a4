// How much of a block's logic switches in each clock: its natural traffic on its cover.
//
// 64 streams of traffic run at once (logic/simulate.hpp), so that few clocks average over much: with the
// clocks below the toggles of every block of the demo are within 2 % of those over ten times as many clocks,
// which is far inside the spread of a power estimate. Example: a free-running 6-bit counter has 1.97 register
// toggles in a clock. Tested by tests/options/block_activity_test.cpp.
#pragma once

#include "blocks/kind.hpp"
#include "logic/activity.hpp"
#include "logic/pack.hpp"

namespace portweigh::options {

// Clocks that are run before counting, to let start-up transients die, and clocks that are counted.
inline constexpr unsigned settling_clocks = 64;
inline constexpr unsigned counted_clocks = 3072;

// The same for every call with the same arguments; `fitted` is the kind's network with these settings.
logic::Activity block_activity(const blocks::Kind& kind, const blocks::Settings& settings,
                               const logic::Fitted& fitted, blocks::TrafficState state,
                               unsigned clocks = counted_clocks);

}  // namespace portweigh::options

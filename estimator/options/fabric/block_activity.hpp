// How much of a block's logic switches in each clock: its natural traffic on its cover.
//
// 64 streams of traffic run at once (logic/simulation/simulate.hpp), so that few clocks average over much. After 512
// clocks of settling are counted, with traffic,
//   800,000 / nodes of the network, but 768 to 3520 clocks; without traffic 768
// since a large block averages over many nodes, and a small one is cheap: 3520 clocks are one message of a
// framer at eight samples a bit, whose streams are in phase. With that the toggles of every block of the demo
// are within 2 % of those over twenty thousand clocks, far inside the spread of a power estimate. Example: a
// free-running 6-bit counter has 1.97 register toggles in a clock. Tested by
// tests/options/fabric/block_activity_test.cpp.
#pragma once

#include "blocks/kind.hpp"
#include "logic/cover/pack.hpp"
#include "logic/simulation/activity.hpp"

namespace portweigh::options {

// The same for every call with the same arguments; `fitted` is the kind's network with these settings.
logic::Activity block_activity(const blocks::Kind& kind, const blocks::Settings& settings,
                               const logic::Fitted& fitted, blocks::TrafficState state);

// Over `counted` clocks after the first `settling` ones.
logic::Activity block_activity_over(const blocks::Kind& kind, const blocks::Settings& settings,
                                    const logic::Fitted& fitted, blocks::TrafficState state,
                                    unsigned settling, unsigned counted);

}  // namespace portweigh::options

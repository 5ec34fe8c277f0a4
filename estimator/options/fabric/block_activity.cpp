#include "options/fabric/block_activity.hpp"

#include <algorithm>

#include "logic/simulation/glitches.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::options {

logic::Activity block_activity(const blocks::Kind& kind, const blocks::Settings& settings,
                               const logic::Fitted& fitted, blocks::TrafficState state) {
  if (state == blocks::TrafficState::idle)
    return block_activity_over(kind, settings, fitted, state, 512, 768);
  constexpr unsigned settling = 2048;  // until the memories of buffers and registers are full
  constexpr std::size_t fewest = 3072;
  constexpr std::size_t most = 7040;
  constexpr std::size_t node_clocks = 1'600'000;
  const std::size_t counted =
      std::clamp(node_clocks / std::max<std::size_t>(fitted.network.size(), 1), fewest, most);
  return block_activity_over(kind, settings, fitted, state, settling, static_cast<unsigned>(counted));
}

logic::Activity block_activity_over(const blocks::Kind& kind, const blocks::Settings& settings,
                                    const logic::Fitted& fitted, blocks::TrafficState state,
                                    unsigned settling, unsigned counted) {
  constexpr std::uint64_t traffic_seed = 1;
  logic::Simulator simulator(fitted.network);
  logic::watch(simulator, fitted.cover);
  // Chosen: a ratio settles sooner than the counts do, and this simulation costs several times the other. Windows
  // all over the time counted see all phases of long frames.
  constexpr unsigned window_clocks = 8;
  constexpr unsigned stride = 67;  // no multiple of an event's clocks, so that no phase is missed
  logic::UnitDelay timed(fitted.cover);
  const blocks::Drive drive = kind.traffic(settings, state, traffic_seed);
  for (unsigned clock = 0; clock < settling + counted; ++clock) {
    if (clock == settling) simulator.reset_toggles();
    drive(simulator, clock);
    if (clock >= settling) {
      const unsigned within = (clock - settling) % stride;
      if (within == 0) timed.pause();
      if (within <= window_clocks) timed.settle(simulator);
    }
    simulator.clock();
  }
  logic::Activity activity = logic::activity(fitted.network, fitted.cover, simulator);
  activity.glitch_ratio = timed.ratio();
  return activity;
}

}  // namespace portweigh::options

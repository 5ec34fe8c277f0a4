#include "options/block_activity.hpp"

#include "logic/simulate.hpp"

namespace portweigh::options {

logic::Activity block_activity(const blocks::Kind& kind, const blocks::Settings& settings,
                               const logic::Fitted& fitted, blocks::TrafficState state, unsigned clocks) {
  constexpr std::uint64_t traffic_seed = 1;
  logic::Simulator simulator(fitted.network);
  logic::watch(simulator, fitted.cover);
  const blocks::Drive drive = kind.traffic(settings, state, traffic_seed);
  for (unsigned clock = 0; clock < settling_clocks + clocks; ++clock) {
    if (clock == settling_clocks) simulator.reset_toggles();
    drive(simulator, clock);
    simulator.clock();
  }
  return logic::activity(fitted.network, fitted.cover, simulator);
}

}  // namespace portweigh::options

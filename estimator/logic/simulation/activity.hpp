// Switching activity of a covered network under simulated traffic: what the energy figures need.
//
//   Simulator sim(net);
//   watch(sim, cover);             // LUT outputs and carry bits are now simulated and counted along
//   ... run the traffic of one port state ...
//   Activity active = activity(net, cover, sim);
//   sim.reset_toggles();           // next port state
//
// All figures are per clock and stream: a register that toggles at every clock has 1.0. Nodes inside a LUT
// don't switch anything outside and don't count. Registers merged or removed by the cover don't count either.
//
// Tested by tests/logic/simulation/activity_test.cpp.
#pragma once

#include "logic/cover/cover.hpp"
#include "logic/network/network.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::logic {

struct Activity {
  double lut_toggles = 0;       // of all LUT outputs together
  double carry_toggles = 0;     // sums and carries
  double register_toggles = 0;  // register outputs
  double memory_output_toggles = 0;
  double memory_reads = 0;  // accesses with a changed address
  double memory_writes = 0;

  double glitch_ratio = 1;  // transitions of LUTs and carries by those counted here (glitches.hpp)

  // With glitches.
  double total_toggles() const {
    return glitch_ratio * (lut_toggles + carry_toggles) + register_toggles + memory_output_toggles;
  }
};

// The simulator must simulate the network that was covered.
void watch(Simulator& simulator, const Cover& cover);
// Throws std::logic_error unless `watch` was called for this cover and at least two clocks were counted.
Activity activity(const Network& network, const Cover& cover, const Simulator& simulator);

}  // namespace portweigh::logic

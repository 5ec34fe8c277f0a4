#include "logic/simulation/activity.hpp"

#include <stdexcept>
#include <vector>

namespace portweigh::logic {
namespace {

TruthTable input_of(Literal literal, unsigned position) {
  return TruthTable::input(position).complement_if(literal.is_complemented());
}

// Where the simulator keeps each signal: a node of the network or a probe behind the nodes.
std::vector<std::uint32_t> places(const Cover& cover, std::size_t node_count) {
  std::vector<std::uint32_t> place(cover.signals.size(), 0);
  auto next = static_cast<std::uint32_t>(node_count);
  for (std::size_t i = 0; i < cover.signals.size(); ++i) {
    const Signal& signal = cover.signals[i];
    if (signal.kind == SignalKind::source) {
      place[i] = signal.index;
    } else if (signal.kind != SignalKind::constant) {
      place[i] = next++;
    }
  }
  return place;
}

}  // namespace

void watch(Simulator& simulator, const Cover& cover) {
  const std::vector<std::uint32_t> place = places(cover, simulator.network().size());
  std::vector<Probe> probes;
  for (const Signal& signal : cover.signals) {
    if (signal.kind == SignalKind::lut) {
      const Lut& lut = cover.luts[signal.index];
      Probe probe{{}, lut.function};
      for (const std::uint32_t leaf : lut.leaves) probe.leaves.push_back(place[leaf]);
      probes.push_back(std::move(probe));
    } else if (signal.kind == SignalKind::sum || signal.kind == SignalKind::carry) {
      const CarryBit& bit = cover.carry_bits[signal.index];
      const TruthTable a = input_of(bit.a, 0);
      const TruthTable b = input_of(bit.b, 1);
      const TruthTable c = input_of(bit.carry_in, 2);
      probes.push_back({{place[bit.a.node()], place[bit.b.node()], place[bit.carry_in.node()]},
                        signal.kind == SignalKind::sum ? a ^ b ^ c : (a & b) | (c & (a ^ b))});
    }
  }
  std::vector<std::uint32_t> sources = {0};  // the constant, which never toggles
  for (const Signal& signal : cover.signals) {
    if (signal.kind == SignalKind::source) sources.push_back(signal.index);
  }
  simulator.set_probes(probes, sources);
}

Activity activity(const Network& network, const Cover& cover, const Simulator& simulator) {
  const std::size_t cells = cover.luts.size() + 2 * cover.carry_bits.size();
  if (simulator.probe_count() != cells) throw std::logic_error("the simulator doesn't watch this cover");
  if (simulator.clocks_counted() < 2) throw std::logic_error("activity needs two clocks or more");
  const double stream_clocks =
      static_cast<double>(simulator.clocks_counted()) * static_cast<double>(Simulator::streams);
  const auto per_clock = [stream_clocks](std::uint64_t count) {
    return static_cast<double>(count) / stream_clocks;
  };
  Activity result;
  const std::vector<std::uint32_t> place = places(cover, network.size());
  for (std::size_t i = 0; i < cover.signals.size(); ++i) {
    const Signal& signal = cover.signals[i];
    const std::size_t at = place[i];
    const double toggles = per_clock(at < network.size() ? simulator.toggles(static_cast<std::uint32_t>(at))
                                                         : simulator.probe_toggles(at - network.size()));
    if (signal.kind == SignalKind::lut) result.lut_toggles += toggles;
    if (signal.kind == SignalKind::sum || signal.kind == SignalKind::carry) result.carry_toggles += toggles;
    if (signal.kind != SignalKind::source) continue;
    const NodeKind kind = network.kind(signal.index);
    if (kind == NodeKind::register_output) result.register_toggles += toggles;
    if (kind == NodeKind::memory_output) result.memory_output_toggles += toggles;
  }
  for (const CoveredMemory& memory : cover.memories) {
    result.memory_reads += per_clock(simulator.memory_reads(memory.index));
    result.memory_writes += per_clock(simulator.memory_writes(memory.index));
  }
  return result;
}

}  // namespace portweigh::logic

#include "logic_fixture.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>
#include <random>
#include <stdexcept>
#include <string_view>

#include "logic/simulation/simulate.hpp"
#include "netlist_writers_fixture.hpp"

namespace portweigh::logic {
namespace {

std::uint64_t after_clock(std::uint64_t output, std::uint64_t next, std::uint64_t enable, std::uint64_t reset,
                          bool reset_value) {
  const std::uint64_t held = (next & enable) | (output & ~enable);
  return reset_value ? held | reset : held & ~reset;
}

std::vector<Literal> roots_of(const Memory& memory) {
  std::vector<Literal> roots;
  for (const MemoryWritePort& port : memory.writes) {
    roots.push_back(port.enable);
    roots.insert(roots.end(), port.address.begin(), port.address.end());
    roots.insert(roots.end(), port.data.begin(), port.data.end());
  }
  for (const MemoryReadPort& port : memory.reads) {
    roots.insert(roots.end(), port.address.begin(), port.address.end());
  }
  return roots;
}

// Lanes (64 evaluations) of all signals from the lanes of the network's nodes (only sources are read).
std::vector<std::uint64_t> evaluate(const Cover& cover, const std::vector<std::uint64_t>& node_lanes) {
  std::vector<std::uint64_t> lanes(cover.signals.size(), 0);
  const auto lane = [&lanes](Literal literal) {
    return literal.is_complemented() ? ~lanes[literal.node()] : lanes[literal.node()];
  };
  std::vector<std::uint64_t> inputs;
  for (std::size_t i = 0; i < cover.signals.size(); ++i) {
    const Signal& signal = cover.signals[i];
    if (signal.kind == SignalKind::source) {
      lanes[i] = node_lanes.at(signal.index);
    } else if (signal.kind == SignalKind::lut) {
      const Lut& lut = cover.luts[signal.index];
      inputs.clear();
      for (const std::uint32_t leaf : lut.leaves) inputs.push_back(lanes[leaf]);
      lanes[i] = lut.function.evaluate(inputs);
    } else if (signal.kind == SignalKind::sum) {
      const CarryBit& bit = cover.carry_bits[signal.index];
      const std::uint64_t a = lane(bit.a);
      const std::uint64_t b = lane(bit.b);
      const std::uint64_t c = lane(bit.carry_in);
      lanes[bit.sum] = a ^ b ^ c;
      lanes[bit.carry] = (a & b) | (c & (a ^ b));
    }
  }
  return lanes;
}

// The number behind `label` and an equals sign, as in `nd =   254`; empty if there is none.
std::optional<std::size_t> number_after(const std::string& text, std::string_view label) {
  const std::size_t place = text.find(label);
  if (place == std::string::npos) return std::nullopt;
  const std::size_t digits = text.find_first_of("0123456789", place + label.size());
  if (digits == std::string::npos) return std::nullopt;
  return std::stoul(text.substr(digits));
}

}  // namespace

std::string difference(const Network& network, const Cover& cover, unsigned clocks) {
  Simulator sim(network, ToggleCounting::off);
  std::mt19937_64 random(1);
  for (unsigned clock = 0; clock < clocks; ++clock) {
    for (const NamedLiteral& input : network.inputs()) {
      sim.set_lanes(input.literal, clock % 3 == 0 ? random() & random() : random());
    }
    std::vector<std::uint64_t> nodes;
    for (std::uint32_t node = 0; node < network.size(); ++node)
      nodes.push_back(sim.lanes(Literal(node, false)));
    const std::vector<std::uint64_t> signals = evaluate(cover, nodes);
    const auto lane = [&signals](Literal literal) {
      return literal.is_complemented() ? ~signals.at(literal.node()) : signals.at(literal.node());
    };
    for (std::size_t i = 0; i < network.outputs().size(); ++i) {
      if (lane(cover.outputs[i].literal) != sim.lanes(network.outputs()[i].literal)) {
        return fmt::format("output {} differs in clock {}", network.outputs()[i].name, clock);
      }
    }
    for (const CoveredRegister& covered : cover.registers) {
      const Register& reg = network.registers()[covered.index];
      const std::uint64_t output = sim.lanes(Literal(reg.node, false));
      const std::uint64_t expected = after_clock(output, sim.lanes(reg.next), sim.lanes(reg.enable),
                                                 sim.lanes(reg.reset), reg.reset_value);
      const std::uint64_t found = after_clock(output, lane(covered.next), lane(covered.enable),
                                              lane(covered.reset), covered.reset_value);
      if (expected != found) return fmt::format("register {} differs in clock {}", reg.name, clock);
    }
    for (const CoveredMemory& covered : cover.memories) {
      const std::vector<Literal> roots = roots_of(network.memories()[covered.index]);
      for (std::size_t i = 0; i < roots.size(); ++i) {
        if (lane(covered.roots[i]) != sim.lanes(roots[i])) {
          return fmt::format("memory {} root {} differs", network.memories()[covered.index].name, i);
        }
      }
    }
    sim.clock();
  }
  return "";
}

std::string malformation(const Cover& cover) {
  for (std::size_t i = 0; i < cover.luts.size(); ++i) {
    const Lut& lut = cover.luts[i];
    if (lut.leaves.size() > cover.options.lut_inputs) return fmt::format("LUT {} has too many inputs", i);
    for (unsigned leaf = 0; leaf < lut.leaves.size(); ++leaf) {
      if (lut.leaves[leaf] == 0) return fmt::format("LUT {} reads a constant", i);
      if (!lut.function.depends_on(leaf)) return fmt::format("LUT {} has an input without effect", i);
    }
    if (cover.signals.at(lut.signal).kind != SignalKind::lut || cover.signals[lut.signal].index != i) {
      return fmt::format("LUT {} and its signal disagree", i);
    }
  }
  return "";
}

ReferenceCover reference_cover(const Network& network, const std::string& commands) {
  const std::filesystem::path path =
      std::filesystem::temp_directory_path() / fmt::format("portweigh-reference-{}.aig", getpid());
  std::ofstream(path, std::ios::binary) << write_aiger(network, AigerForm::binary);
  const std::string command =
      fmt::format("berkeley-abc -c 'read {}; {}; print_stats' 2>/dev/null", path.string(), commands);
  const auto close = [](FILE* pipe) { pclose(pipe); };
  std::string text;
  {
    const std::unique_ptr<FILE, decltype(close)> pipe(popen(command.c_str(), "r"), close);
    std::array<char, 4096> buffer{};
    while (pipe && std::fgets(buffer.data(), buffer.size(), pipe.get()) != nullptr) text += buffer.data();
  }
  std::filesystem::remove(path);
  const std::optional<std::size_t> luts = number_after(text, "nd =");
  const std::optional<std::size_t> levels = number_after(text, "lev =");
  if (!luts || !levels)
    throw std::runtime_error("berkeley-abc gives no cover; is it installed (Debian: berkeley-abc)?");
  return {*luts, *levels};
}

}  // namespace portweigh::logic

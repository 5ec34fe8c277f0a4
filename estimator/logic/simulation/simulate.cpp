#include "logic/simulation/simulate.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <bit>
#include <map>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "logic/simulation/transpose.hpp"

namespace portweigh::logic {
namespace {

constexpr std::uint64_t all_streams = ~std::uint64_t{0};
constexpr unsigned plane_count = 4;
constexpr unsigned plane_capacity = (1U << plane_count) - 1;

void check_stream(unsigned stream) {
  if (stream >= Simulator::streams) throw std::logic_error(fmt::format("stream {} of 64", stream));
}

std::uint64_t only(unsigned stream) {
  check_stream(stream);
  return std::uint64_t{1} << stream;
}

// Bits `name` or `name[0]`, `name[1]`, ... of a list of named literals.
std::vector<Literal> find_bits(std::span<const NamedLiteral> list, std::string_view name) {
  std::vector<Literal> bits;
  for (const NamedLiteral& entry : list) {
    if (entry.name == name) return {entry.literal};
    if (entry.name == fmt::format("{}[{}]", name, bits.size())) bits.push_back(entry.literal);
  }
  return bits;
}

std::vector<NamedLiteral> register_names(const Network& network) {
  std::vector<NamedLiteral> names;
  for (const Register& reg : network.registers()) names.push_back({reg.name, Literal(reg.node, false)});
  return names;
}

constexpr std::uint32_t not_counted = ~std::uint32_t{0};

}  // namespace

Simulator::Simulator(const Network& network, ToggleCounting counting)
    : network_(&network), counting_(counting), values_(network.size(), 0) {
  network.check_complete();
  std::map<std::uint32_t, Step> reads;
  for (std::uint32_t memory = 0; memory < network.memories().size(); ++memory) {
    const std::vector<MemoryReadPort>& ports = network.memories()[memory].reads;
    for (std::uint32_t port = 0; port < ports.size(); ++port) {
      if (ports[port].style != ReadStyle::combinational) continue;
      const std::uint32_t output = ports[port].outputs.front();
      reads[output] = {NodeKind::memory_output, output, memory, port};
    }
  }
  for (std::uint32_t node = 0; node < network.size(); ++node) {
    if (network.is_gate(node)) {
      steps_.push_back({network.kind(node), node, network.fanin0(node).raw(), network.fanin1(node).raw()});
    } else if (const auto read = reads.find(node); read != reads.end()) {
      steps_.push_back(read->second);
    }
  }
  memory_states_.resize(network.memories().size());
  start();
  set_probes({});
}

// Registers and memories at their initial values.
void Simulator::start() {
  for (const Register& reg : network_->registers()) values_[reg.node] = reg.reset_value ? all_streams : 0;
  for (std::size_t i = 0; i < memory_states_.size(); ++i) {
    const Memory& memory = network_->memories()[i];
    MemoryState& state = memory_states_[i];
    state.words.assign(std::size_t{memory.words} * streams, 0);
    for (std::size_t word = 0; word < memory.contents.size(); ++word) {
      for (unsigned stream = 0; stream < streams; ++stream) {
        state.words[word * streams + stream] = memory.contents[word];
      }
    }
    state.last_addresses.assign(memory.reads.size(), {});
  }
}

void Simulator::set_probes(const std::vector<Probe>& probes) {
  std::vector<std::uint32_t> all(network_->size());
  std::iota(all.begin(), all.end(), 0U);
  set_probes(probes, all);
}

void Simulator::set_probes(const std::vector<Probe>& probes, std::span<const std::uint32_t> counted_nodes) {
  probe_count_ = probes.size();
  counted_.assign(counted_nodes.begin(), counted_nodes.end());
  for (std::size_t i = 0; i < probe_count_; ++i) {
    counted_.push_back(static_cast<std::uint32_t>(network_->size() + i));
  }
  counter_of_.assign(network_->size() + probe_count_, not_counted);
  for (std::size_t i = 0; i < counted_.size(); ++i) {
    counter_of_[counted_[i]] = static_cast<std::uint32_t>(i);
  }
  compile_probes(probes);
  previous_.assign(counted_.size(), 0);
  has_previous_ = false;
  planes_.assign(plane_count, Lanes(counted_.size(), 0));
  totals_.assign(counted_.size(), 0);
  reset_toggles();
}

// Multiplexers of a probe's decision diagram: one for each different function that is left when the highest
// inputs are fixed, the lowest inputs first.
void Simulator::compile_probes(const std::vector<Probe>& probes) {
  probe_program_.clear();
  const auto zero = static_cast<std::uint32_t>(network_->size() + probes.size());
  const std::uint32_t one = zero + 1;
  const std::uint32_t first_between = zero + 2;
  std::uint32_t next = first_between;
  std::uint32_t used = first_between;
  std::vector<std::pair<TruthTable, std::uint32_t>> made;  // of the present probe
  const auto place_of = [&](const auto& self, const Probe& probe, const TruthTable& function,
                            std::size_t inputs) -> std::uint32_t {
    if (function == TruthTable::constant(false)) return zero;
    if (function == TruthTable::constant(true)) return one;
    for (const auto& [known, place] : made) {
      if (known == function) return place;
    }
    while (!function.depends_on(static_cast<unsigned>(inputs - 1))) --inputs;
    const auto highest = static_cast<unsigned>(inputs - 1);
    const std::uint32_t low = self(self, probe, function.cofactor(highest, false), highest);
    const std::uint32_t high = self(self, probe, function.cofactor(highest, true), highest);
    const std::uint32_t select = probe.leaves[highest];
    if (low == zero && high == one) return select;
    probe_program_.push_back({next, select, low, high});
    made.emplace_back(function, next);
    return next++;
  };
  for (std::size_t i = 0; i < probes.size(); ++i) {
    made.clear();
    next = first_between;
    const auto target = static_cast<std::uint32_t>(network_->size() + i);
    const std::uint32_t place = place_of(place_of, probes[i], probes[i].function, probes[i].leaves.size());
    if (made.empty() || place != made.back().second) {
      probe_program_.push_back({target, one, zero, place});
    } else {
      probe_program_.back().target = target;
    }
    used = std::max(used, next);
  }
  values_.resize(used, 0);
  values_[zero] = 0;
  values_[one] = all_streams;
}

void Simulator::reset_toggles() {
  for (Lanes& plane : planes_) std::fill(plane.begin(), plane.end(), 0);
  std::fill(totals_.begin(), totals_.end(), 0);
  for (MemoryState& state : memory_states_) state.reads = state.writes = 0;
  pending_ = 0;
  clocks_counted_ = 0;
}

void Simulator::set_lanes(Literal input, std::uint64_t lanes) {
  if (network_->kind(input.node()) != NodeKind::input) {
    throw std::logic_error(fmt::format("node {} is set but is no input", input.node()));
  }
  values_[input.node()] = input.is_complemented() ? ~lanes : lanes;
  is_settled_ = false;
}

void Simulator::set_bits(const std::vector<Literal>& bits, std::uint64_t value, std::uint64_t in_streams) {
  for (std::size_t i = 0; i < bits.size(); ++i) {
    const bool bit = i < 64 && (value >> i & 1U) != 0;
    const std::uint64_t before = lane(bits[i]);
    set_lanes(bits[i], bit ? before | in_streams : before & ~in_streams);
  }
}

void Simulator::set(const Word& word, std::uint64_t value) {
  set_bits(word.literals(), value, all_streams);
}

void Simulator::set(const Word& word, unsigned stream, std::uint64_t value) {
  set_bits(word.literals(), value, only(stream));
}

void Simulator::set(std::string_view name, std::uint64_t value) {
  set_bits(named_inputs(name), value, all_streams);
}

void Simulator::set(std::string_view name, unsigned stream, std::uint64_t value) {
  set_bits(named_inputs(name), value, only(stream));
}

const std::vector<Literal>& Simulator::named_inputs(std::string_view name) {
  if (const auto known = named_inputs_.find(name); known != named_inputs_.end()) return known->second;
  std::vector<Literal> bits = find_bits(network_->inputs(), name);
  if (bits.empty()) throw std::logic_error(fmt::format("no input is called {}", name));
  return named_inputs_.emplace(name, std::move(bits)).first->second;
}

std::uint64_t Simulator::lane_of(const Lanes& values, std::uint32_t raw) {
  return values[raw >> 1U] ^ (std::uint64_t{0} - (raw & 1U));
}

void Simulator::evaluate() const {
  if (is_settled_) return;
  for (const Step& step : steps_) {
    if (step.kind == NodeKind::memory_output) {
      read_port(step.operand0, network_->memories()[step.operand0].reads[step.operand1], values_);
      continue;
    }
    const std::uint64_t a = lane_of(values_, step.operand0);
    const std::uint64_t b = lane_of(values_, step.operand1);
    values_[step.output] = step.kind == NodeKind::and_gate ? a & b : a ^ b;
  }
  is_settled_ = true;
}

std::uint64_t Simulator::gather(const std::vector<Literal>& bits, unsigned stream) const {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < bits.size() && i < 64; ++i) value |= (lane(bits[i]) >> stream & 1U) << i;
  return value;
}

void Simulator::read_port(std::uint32_t memory, const MemoryReadPort& port, Lanes& target) const {
  const std::vector<std::uint64_t>& words = memory_states_[memory].words;
  std::array<std::uint64_t, 64> addresses{};  // lanes of the address bits, then the address of each stream
  for (std::size_t bit = 0; bit < port.address.size() && bit < 64; ++bit) {
    addresses[bit] = lane(port.address[bit]);
  }
  transpose(addresses);
  std::array<std::uint64_t, 64> data{};
  for (unsigned stream = 0; stream < streams; ++stream) {
    if (addresses[stream] >= network_->memories()[memory].words) continue;
    data[stream] = words[addresses[stream] * streams + stream];
  }
  transpose(data);
  for (std::size_t bit = 0; bit < port.outputs.size(); ++bit) target[port.outputs[bit]] = data[bit];
}

std::uint64_t Simulator::lanes(Literal literal) const {
  evaluate();
  return lane(literal);
}

std::uint64_t Simulator::value(const Word& word, unsigned stream) const {
  check_stream(stream);
  evaluate();
  return gather(word.literals(), stream);
}

const std::vector<Literal>& Simulator::named(std::string_view name) const {
  if (const auto known = named_.find(name); known != named_.end()) return known->second;
  std::vector<Literal> bits = find_bits(network_->outputs(), name);
  if (bits.empty()) bits = find_bits(network_->inputs(), name);
  if (bits.empty()) bits = find_bits(register_names(*network_), name);
  if (bits.empty()) throw std::logic_error(fmt::format("no output, input or register is called {}", name));
  return named_.emplace(name, std::move(bits)).first->second;
}

std::uint64_t Simulator::value(std::string_view name, unsigned stream) const {
  check_stream(stream);
  evaluate();
  return gather(named(name), stream);
}

std::uint64_t Simulator::memory_word(std::uint32_t memory, std::uint64_t address, unsigned stream) const {
  check_stream(stream);
  return memory_states_.at(memory).words.at(address * streams + stream);
}

void Simulator::evaluate_probes() {
  for (const Multiplexer& step : probe_program_) {
    const std::uint64_t low = values_[step.low];
    values_[step.target] = low ^ ((low ^ values_[step.high]) & values_[step.select]);
  }
}

void Simulator::count_toggles() {
  evaluate_probes();
  const std::size_t count = counted_.size();
  carry_.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const std::uint64_t now = values_[counted_[i]];
    carry_[i] = now ^ previous_[i];
    previous_[i] = now;
  }
  if (!has_previous_) std::fill(carry_.begin(), carry_.end(), 0);
  // One plane after the other, so that the compiler adds several counters at once.
  std::uint64_t* __restrict carry = carry_.data();
  for (Lanes& lanes : planes_) {
    std::uint64_t* __restrict plane = lanes.data();
    for (std::size_t i = 0; i < count; ++i) {
      const std::uint64_t both = plane[i] & carry[i];
      plane[i] ^= carry[i];
      carry[i] = both;
    }
  }
  has_previous_ = true;
  if (++pending_ == plane_capacity) flush_toggles();
  ++clocks_counted_;
}

void Simulator::flush_toggles() const {
  if (pending_ == 0) return;
  for (unsigned plane = 0; plane < plane_count; ++plane) {
    for (std::size_t i = 0; i < totals_.size(); ++i) {
      totals_[i] += static_cast<std::uint64_t>(std::popcount(planes_[plane][i])) << plane;
    }
    std::fill(planes_[plane].begin(), planes_[plane].end(), 0);
  }
  pending_ = 0;
}

std::uint64_t Simulator::total_of(std::uint32_t place) const {
  const std::uint32_t counter = counter_of_.at(place);
  if (counter == not_counted) throw std::logic_error(fmt::format("toggles of node {} aren't counted", place));
  flush_toggles();
  return totals_[counter];
}

std::uint64_t Simulator::toggles(std::uint32_t node) const {
  return total_of(node);
}

std::uint64_t Simulator::probe_toggles(std::size_t probe) const {
  return total_of(static_cast<std::uint32_t>(network_->size() + probe));
}

void Simulator::write_memory_state(std::uint32_t memory) {
  const Memory& source = network_->memories()[memory];
  MemoryState& state = memory_states_[memory];
  for (const MemoryWritePort& port : source.writes) {
    std::uint64_t enabled = lane(port.enable);
    state.writes += static_cast<std::uint64_t>(std::popcount(enabled));
    while (enabled != 0) {
      const auto stream = static_cast<unsigned>(std::countr_zero(enabled));
      enabled &= enabled - 1;
      const std::uint64_t address = gather(port.address, stream);
      if (address < source.words) state.words[address * streams + stream] = gather(port.data, stream);
    }
  }
}

// A read that costs energy is one whose address has changed.
void Simulator::count_memory_reads(std::uint32_t memory) {
  MemoryState& state = memory_states_[memory];
  for (std::size_t i = 0; i < state.last_addresses.size(); ++i) {
    const MemoryReadPort& port = network_->memories()[memory].reads[i];
    std::vector<std::uint64_t>& last = state.last_addresses[i];
    const bool is_known = !last.empty();
    last.resize(port.address.size(), 0);
    std::uint64_t changed = 0;
    for (std::size_t bit = 0; bit < port.address.size(); ++bit) {
      const std::uint64_t now = lane(port.address[bit]);
      changed |= now ^ last[bit];
      last[bit] = now;
    }
    if (is_known) state.reads += static_cast<std::uint64_t>(std::popcount(changed));
  }
}

void Simulator::clock() {
  evaluate();
  if (counting_ == ToggleCounting::on) count_toggles();
  next_.resize(network_->size());
  for (const Register& reg : network_->registers()) {
    const std::uint64_t enable = lane(reg.enable);
    const std::uint64_t reset = lane(reg.reset);
    const std::uint64_t held = (lane(reg.next) & enable) | (values_[reg.node] & ~enable);
    next_[reg.node] = reg.reset_value ? held | reset : held & ~reset;
  }
  for (std::uint32_t memory = 0; memory < memory_states_.size(); ++memory) {
    if (counting_ == ToggleCounting::on) count_memory_reads(memory);
    for (const MemoryReadPort& port : network_->memories()[memory].reads) {
      if (port.style == ReadStyle::registered) read_port(memory, port, next_);
    }
  }
  for (std::uint32_t memory = 0; memory < memory_states_.size(); ++memory) write_memory_state(memory);
  for (const Register& reg : network_->registers()) values_[reg.node] = next_[reg.node];
  for (const Memory& memory : network_->memories()) {
    for (const MemoryReadPort& port : memory.reads) {
      if (port.style != ReadStyle::registered) continue;
      for (const std::uint32_t output : port.outputs) values_[output] = next_[output];
    }
  }
  is_settled_ = false;
}

void Simulator::clock(unsigned times) {
  for (unsigned i = 0; i < times; ++i) clock();
}

}  // namespace portweigh::logic

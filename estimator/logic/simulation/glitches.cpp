#include "logic/simulation/glitches.hpp"

#include <array>
#include <bit>
#include <tuple>
#include <utility>

namespace portweigh::logic {
namespace {

TruthTable input_of(Literal literal, unsigned position) {
  return TruthTable::input(position).complement_if(literal.is_complemented());
}

std::uint64_t changed_streams(std::uint64_t before, std::uint64_t after) {
  return static_cast<std::uint64_t>(std::popcount(before ^ after));
}

}  // namespace

UnitDelay::UnitDelay(const Cover& cover) : cover_(&cover) {
  for (std::uint32_t i = 0; i < cover.signals.size(); ++i) {
    const Signal& signal = cover.signals[i];
    if (signal.kind == SignalKind::lut) {
      const Lut& lut = cover.luts[signal.index];
      cells_.push_back({i, false, lut.leaves, lut.function});
    } else if (signal.kind == SignalKind::sum || signal.kind == SignalKind::carry) {
      const CarryBit& bit = cover.carry_bits[signal.index];
      const bool is_sum = signal.kind == SignalKind::sum;
      const TruthTable a = input_of(bit.a, 0);
      const TruthTable b = input_of(bit.b, 1);
      const TruthTable c = input_of(bit.carry_in, 2);
      cells_.push_back({i,
                        !is_sum,
                        {bit.a.node(), bit.b.node(), bit.carry_in.node()},
                        is_sum ? a ^ b ^ c : (a & b) | (c & (a ^ b))});
    }
  }
  readers_.resize(cover.signals.size());
  for (std::uint32_t i = 0; i < cells_.size(); ++i) {
    for (const std::uint32_t leaf : cells_[i].leaves) readers_[leaf].push_back(i);
  }
  lanes_.resize(cover.signals.size(), 0);
  is_timed_.resize(cells_.size());
  for (std::uint32_t i = 0; i < cells_.size(); ++i) schedule(i);
}

std::uint64_t UnitDelay::evaluate(const Cell& cell) const {
  std::array<std::uint64_t, max_lut_inputs> inputs{};
  for (std::size_t i = 0; i < cell.leaves.size(); ++i) inputs[i] = lanes_[cell.leaves[i]];
  return cell.function.evaluate({inputs.data(), cell.leaves.size()});
}

void UnitDelay::assign(std::uint32_t signal, std::uint64_t lanes) {
  if (lanes == lanes_[signal]) return;
  lanes_[signal] = lanes;
  for (const std::uint32_t reader : readers_[signal]) {
    schedule(reader);
  }
}

void UnitDelay::schedule(std::uint32_t cell) {
  if (cells_[cell].is_instant) {
    instant_.insert(cell);
  } else if (!is_timed_[cell]) {
    is_timed_[cell] = true;
    timed_.push_back(cell);
  }
}

void UnitDelay::switch_cell(const Cell& cell, std::uint64_t lanes) {
  all_ += changed_streams(lanes_[cell.signal], lanes);
  assign(cell.signal, lanes);
}

// A chain's carries stand in topological order, so one pass carries a change to its end.
void UnitDelay::settle_instant_cells() {
  while (!instant_.empty()) {
    const Cell& cell = cells_[*instant_.begin()];
    instant_.erase(instant_.begin());
    switch_cell(cell, evaluate(cell));
  }
}

void UnitDelay::wait_one_unit() {
  std::vector<std::pair<std::uint32_t, std::uint64_t>> switching;
  for (const std::uint32_t cell : timed_) switching.emplace_back(cell, evaluate(cells_[cell]));
  for (const std::uint32_t cell : timed_) is_timed_[cell] = false;
  timed_.clear();
  for (const auto& [cell, lanes] : switching) switch_cell(cells_[cell], lanes);
}

void UnitDelay::settle(const Simulator& simulator) {
  const auto before = std::pair(all_, useful_);
  settled_ = lanes_;
  for (std::uint32_t i = 0; i < cover_->signals.size(); ++i) {
    if (cover_->signals[i].kind != SignalKind::source) continue;
    assign(i, simulator.lanes(Literal(cover_->signals[i].index, false)));
  }
  settle_instant_cells();
  while (!timed_.empty()) {
    wait_one_unit();
    settle_instant_cells();
  }
  for (const Cell& cell : cells_) useful_ += changed_streams(settled_[cell.signal], lanes_[cell.signal]);
  if (!is_started_) std::tie(all_, useful_) = before;
  is_started_ = true;
}

}  // namespace portweigh::logic

// Useless transitions of a covered network ("glitches"), under the unit-delay model.
//
//   UnitDelay timed(cover);
//   after every clock, inputs set:  timed.settle(simulator);
//   timed.ratio();                  // all transitions by those that a network without delays would have
//
// Sources (registers, inputs, memory outputs) change together; a LUT and the sum of a carry cell follow one
// unit later, a dedicated carry without delay, since it is fast beside a LUT and its wiring. A cell whose
// inputs come at different times may switch more than once before it settles: with random operands a ripple
// adder of 8 LUT pairs has 0.76 useless transitions for each useful one. Glitches were measured as 4 to 73 %
// of the dynamic power of programmable logic, 22.6 % at the mean (Shum and Anderson 2011); wires of unequal
// length, which this model doesn't know, move both ways. Tested by tests/logic/simulation/glitches_test.cpp.
#pragma once

#include <cstdint>
#include <set>
#include <vector>

#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::logic {

class UnitDelay {
 public:
  // The cover must outlive it.
  explicit UnitDelay(const Cover& cover);

  // The simulator's sources take their present values and the cells settle; counts from the second call on, and
  // from the second after a pause.
  void settle(const Simulator& simulator);
  void pause() { is_started_ = false; }

  // Of LUTs, sums and carries, over all streams and clocks.
  std::uint64_t all() const { return all_; }
  std::uint64_t useful() const { return useful_; }
  // 1 where nothing switched.
  double ratio() const {
    return useful_ == 0 ? 1.0 : static_cast<double>(all_) / static_cast<double>(useful_);
  }

 private:
  struct Cell {
    std::uint32_t signal = 0;
    bool is_instant = false;  // a dedicated carry
    std::vector<std::uint32_t> leaves;
    TruthTable function;
  };

  std::uint64_t evaluate(const Cell& cell) const;
  void assign(std::uint32_t signal, std::uint64_t lanes);
  void schedule(std::uint32_t cell);
  void switch_cell(const Cell& cell, std::uint64_t lanes);
  void settle_instant_cells();
  void wait_one_unit();

  const Cover* cover_;
  std::vector<Cell> cells_;                          // in topological order
  std::vector<std::vector<std::uint32_t>> readers_;  // cells, by signal
  std::vector<std::uint64_t> lanes_;                 // by signal
  std::vector<std::uint64_t> settled_;
  std::vector<std::uint32_t> timed_;  // cells to evaluate in the next unit, each once
  std::vector<bool> is_timed_;
  std::set<std::uint32_t> instant_;  // cells to evaluate at once
  bool is_started_ = false;
  std::uint64_t all_ = 0;
  std::uint64_t useful_ = 0;
};

}  // namespace portweigh::logic

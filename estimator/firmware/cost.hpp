// What a routine costs on a core class.
//
//   cycles of an event = compiler factor x sum over statements (times executed x cycles on this core)
//
// The cycles and bytes of each statement come from a small code generator model (generator.hpp): operations
// split into words of the core, variables kept in registers by loop depth until they run out, two-operand
// moves, constants that fit an instruction, comparisons fused with branches, values of static variables kept
// while they are known, addressing of arrays, tables and structures. What compilers do differently for size
// and for speed (loops unrolled, switches through a support routine, shifts in loops) follows core.goal; its
// middle is the mean of both codes, and low..high then span both. low..high bound more than nine in ten
// compiled routines of the class (docs/validation-firmware.md). Event cycles exclude interrupt entry, frame
// and exit, and zero wait states are assumed. Tested by cost_test.cpp and accuracy_test.cpp.
#pragma once

#include <cstddef>
#include <vector>

#include "firmware/core.hpp"
#include "firmware/listing.hpp"
#include "firmware/routine.hpp"

namespace portweigh::firmware {

struct CostRange {
  double low = 0;
  double typical = 0;
  double high = 0;
};

struct RoutineCost {
  CostRange cycles;           // per event, mean over the counted events
  CostRange code_bytes;       // without constants, with helpers
  double helper_bytes = 0;    // of these: compiler support routines, counted once per program
  double constant_bytes = 0;  // tables in program memory
  double ram_bytes = 0;       // static variables and arrays
  double stack_bytes = 0;     // saved registers, spilled variables, return addresses
};

// A routine translated for one core class: cost it for as many counts as needed.
class Translation {
 public:
  Translation(const Routine& routine, const Core& core);

  // Mean cycles per event of the counted events, before the compiler factor. Throws std::invalid_argument
  // if the counts are of another routine or hold no event.
  double model_cycles(const Counts& counts) const;
  // Operations per event, by operation class (index: Operation).
  std::vector<double> operations(const Counts& counts) const;
  // Code bytes before the compiler factor, without helpers.
  double model_code_bytes() const;

  RoutineCost cost(const Counts& counts) const;

 private:
  void require_own(const Counts& counts) const;

  Core core_;
  Listing listing_;
  std::vector<Listing>
      bounds_;  // what low and high are taken from: built for size and for speed, or the one goal
  std::size_t statements_ = 0;
  std::size_t sites_ = 0;
  double constant_bytes_ = 0;
  double ram_bytes_ = 0;
};

// Shorthand for Translation(routine, core).cost(counts).
RoutineCost cost(const Routine& routine, const Core& core, const Counts& counts);

}  // namespace portweigh::firmware

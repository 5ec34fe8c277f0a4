// The output of the code generator model: operations with how often they run and how often they stand in the
// code. How often is kept as a sum of counters, so that one translation serves any counts.
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "firmware/core.hpp"
#include "firmware/program.hpp"

namespace portweigh::firmware {

// coefficient x counter, summed. Counter 0 is the number of runs, then statements, then sites.
class Frequency {
 public:
  static Frequency runs() { return Frequency({{0, 1.0}}); }
  static Frequency statement(StatementId id) { return Frequency({{1 + id, 1.0}}); }
  static Frequency site(const Program& program, SiteId id) {
    return Frequency({{1 + program.statements.size() + id, 1.0}});
  }

  Frequency operator+(const Frequency& other) const;
  Frequency operator-(const Frequency& other) const { return *this + other.scaled(-1.0); }
  Frequency scaled(double factor) const;
  double evaluate(const Counts& counts) const;
  bool operator==(const Frequency&) const = default;

 private:
  using Terms = std::vector<std::pair<std::size_t, double>>;
  explicit Frequency(Terms terms) : terms_(std::move(terms)) {}
  Terms terms_;  // sorted by counter, no zero coefficients
};

struct Instruction {
  Operation operation;
  double amount;        // operations each time
  double copies;        // operations standing in the code
  Frequency frequency;  // times, over all events
};

struct Listing {
  std::vector<Instruction> code;
  double stack_bytes = 0;  // saved registers, spilled variables, return addresses
  double ram_bytes = 0;    // locals kept in static RAM (accumulator cores)
  double helper_bytes = 0;
};

// Translates a routine for a core class; `calls` of library helpers included. Size or speed as core.goal
// says; the middle holds the code of both, each weighted by half.
Listing translate(const Program& program, const Core& core);

}  // namespace portweigh::firmware

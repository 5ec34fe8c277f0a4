#include "firmware/cost.hpp"

#include <stdexcept>

#include <fmt/format.h>

namespace portweigh::firmware {

Translation::Translation(const Routine& routine, const Core& core)
    : core_(core),
      listing_(translate(routine.program(), core)),
      statements_(routine.program().statements.size()),
      sites_(routine.program().sites) {
  const auto& program = routine.program();
  for (const auto& array : program.arrays) {
    const double bytes = static_cast<double>(array.length) * bytes_of(array.type);
    if (array.storage == Storage::flash) constant_bytes_ += bytes;
    if (array.storage == Storage::state) ram_bytes_ += bytes;
  }
  for (const auto& variable : program.variables) {
    if (variable.storage == Storage::state) ram_bytes_ += bytes_of(variable.type);
  }
  ram_bytes_ += listing_.ram_bytes;
}

void Translation::require_own(const Counts& counts) const {
  if (counts.statements.size() != statements_ || counts.sites.size() != sites_) {
    throw std::invalid_argument("counts belong to another routine");
  }
  if (counts.events == 0) throw std::invalid_argument("counts hold no event");
}

std::vector<double> Translation::operations(const Counts& counts) const {
  require_own(counts);
  std::vector<double> sums(operation_count, 0.0);
  for (const auto& instruction : listing_.code) {
    sums[static_cast<std::size_t>(instruction.operation)] +=
        instruction.amount * instruction.frequency.evaluate(counts) / static_cast<double>(counts.events);
  }
  return sums;
}

double Translation::model_cycles(const Counts& counts) const {
  const auto sums = operations(counts);
  double cycles = 0;
  for (std::size_t i = 0; i < operation_count; ++i) cycles += sums[i] * core_.operations[i].cycles;
  return cycles;
}

double Translation::model_code_bytes() const {
  double bytes = 0;
  for (const auto& instruction : listing_.code) {
    bytes += instruction.copies * core_[instruction.operation].bytes;
  }
  return bytes;
}

RoutineCost Translation::cost(const Counts& counts) const {
  const double cycles = model_cycles(counts);
  const double bytes = model_code_bytes();
  const double helpers = listing_.helper_bytes;
  const auto& c = core_.compiler_cycles;
  const auto& b = core_.compiler_bytes;
  return {.cycles = {cycles * c.low, cycles * c.typical, cycles * c.high},
          .code_bytes = {bytes * b.low + helpers, bytes * b.typical + helpers, bytes * b.high + helpers},
          .helper_bytes = helpers,
          .constant_bytes = constant_bytes_,
          .ram_bytes = ram_bytes_,
          .stack_bytes = listing_.stack_bytes};
}

RoutineCost cost(const Routine& routine, const Core& core, const Counts& counts) {
  return Translation(routine, core).cost(counts);
}

}  // namespace portweigh::firmware

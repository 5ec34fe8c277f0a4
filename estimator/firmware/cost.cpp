#include "firmware/cost.hpp"

#include <algorithm>
#include <stdexcept>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

std::vector<Listing> bounds_of(const Program& program, const Core& core) {
  if (core.goal != Goal::middle) return {translate(program, core)};
  return {translate(program, built_for(core, Goal::size)), translate(program, built_for(core, Goal::speed))};
}

double cycles_of(const Listing& listing, const Core& core, const Counts& counts) {
  double cycles = 0;
  for (const auto& instruction : listing.code) {
    cycles +=
        instruction.amount * core[instruction.operation].cycles * instruction.frequency.evaluate(counts);
  }
  return cycles / static_cast<double>(counts.events);
}

double bytes_of(const Listing& listing, const Core& core) {
  double bytes = 0;
  for (const auto& instruction : listing.code) {
    bytes += instruction.copies * core[instruction.operation].bytes;
  }
  return bytes;
}

}  // namespace

Translation::Translation(const Routine& routine, const Core& core)
    : core_(core),
      listing_(translate(routine.program(), core)),
      bounds_(bounds_of(routine.program(), core)),
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
  require_own(counts);
  return cycles_of(listing_, core_, counts);
}

double Translation::model_code_bytes() const {
  return bytes_of(listing_, core_);
}

RoutineCost Translation::cost(const Counts& counts) const {
  const double helpers = listing_.helper_bytes;
  const auto& c = core_.compiler_cycles;
  const auto& b = core_.compiler_bytes;
  RoutineCost sum{.cycles = {1e300, model_cycles(counts) * c.typical, 0},
                  .code_bytes = {1e300, model_code_bytes() * b.typical + helpers, 0},
                  .helper_bytes = helpers,
                  .constant_bytes = constant_bytes_,
                  .ram_bytes = ram_bytes_,
                  .stack_bytes = listing_.stack_bytes};
  for (const auto& bound : bounds_) {
    const double cycles = cycles_of(bound, core_, counts);
    const double bytes = bytes_of(bound, core_);
    sum.cycles.low = std::min(sum.cycles.low, cycles * c.low);
    sum.cycles.high = std::max(sum.cycles.high, cycles * c.high);
    sum.code_bytes.low = std::min(sum.code_bytes.low, bytes * b.low + helpers);
    sum.code_bytes.high = std::max(sum.code_bytes.high, bytes * b.high + helpers);
  }
  return sum;
}

RoutineCost cost(const Routine& routine, const Core& core, const Counts& counts) {
  return Translation(routine, core).cost(counts);
}

}  // namespace portweigh::firmware

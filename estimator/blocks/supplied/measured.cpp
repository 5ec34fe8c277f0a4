// Measured: counts the user already has, from a synthesis report or a compiled and timed routine.
//
// They stand in for the working twin: LUTs, registers, levels and RAM bits of the logic; cycles for each
// event, code and data bytes of the firmware. Zero means that this side does not exist.
// Tested by tests/blocks/supplied/given_counts_test.cpp.
#include "blocks/supplied/given_counts.hpp"

namespace portweigh::blocks {
namespace {

GivenCounts measured_counts(const Settings& settings) {
  return {.luts = settings.integer("luts"),
          .registers = settings.integer("registers"),
          .levels = settings.integer("levels"),
          .ram_bits = settings.integer("ram_bits"),
          .cycles = settings.integer("cycles"),
          .code_bytes = settings.integer("code_bytes"),
          .data_bytes = settings.integer("data_bytes")};
}

}  // namespace

Kind measured_kind() {
  Kind kind;
  kind.name = "measured";
  kind.summary = "counts the user already has, from synthesis or from compiled code";
  kind.spread_class = "measured";
  kind.settings = {
      {"luts", "lookup tables", IntegerDomain{0, 0, 10'000'000}},
      {"registers", "registers", IntegerDomain{0, 0, 10'000'000}},
      {"levels", "lookup tables on the longest path between registers", IntegerDomain{0, 0, 10'000}},
      {"ram_bits", "bits of RAM", IntegerDomain{0, 0, 10'000'000}},
      {"cycles", "clock cycles of the core for each event", IntegerDomain{0, 0, 10'000'000}},
      {"code_bytes", "bytes of program memory, constants included", IntegerDomain{0, 0, 10'000'000}},
      {"data_bytes", "bytes of RAM", IntegerDomain{0, 0, 10'000'000}},
  };
  kind.given = measured_counts;
  return kind;
}

}  // namespace portweigh::blocks

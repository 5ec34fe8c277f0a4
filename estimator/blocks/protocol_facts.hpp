// What a kind of block tells of the protocol it serves: when its routine runs, where it stands on the way from
// the line to the policy, and how it turns bytes into bits, edges and bus clocks.
//
// From these facts the options make schedules, links and groups, so that they need to know no kind by name.
// Source of the edges: definitions of the codes; in brackets for bits that are 0 or 1 alike and independent.
//   biphase-mark  an edge at each boundary, one in the middle of a 1: 1 + ones (1.5)
//   manchester    an edge in each middle, one at the boundary of two equal bits: 2 - changes (1.5)
//   nrzi          an edge for each 0: 1 - ones (0.5)
//   nrz           an edge between two unequal bits: changes (0.5)
// Tested by tests/blocks/protocol_facts_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace portweigh::blocks {

// What sets a routine off, once for each FirmwareRun event.
enum class Event : std::uint8_t {
  edge,       // of the line, received
  half_cell,  // to be sent; where a code has no edges in mid-bit a whole cell
  byte,
  message,
  step,   // of a state machine
  tick,   // of the protocol's timers
  bit,    // on the line
  clock,  // of the chip: no event at all
  given   // whatever the user's own counts are for
};

// As reports and JSON spell it.
constexpr std::string_view name_of(Event event) {
  constexpr std::string_view names[] = {"edge", "half-cell", "byte",  "message", "step",
                                        "tick", "bit",       "clock", "event"};
  return names[static_cast<std::size_t>(event)];
}

// What an event of a network's active traffic is, and how many clocks one takes there. A network works off what
// an event brings long before the next one, so toggles for each event are the same at the line's own pace.
struct Pace {
  Event event = Event::clock;
  double clocks = 1;
};

// Where a kind stands on the way from the line to the policy; a function's layers say it of the kinds that
// can stand anywhere (state machines, timers, pins, scramblers of the user).
enum class Stage : std::uint8_t {
  anywhere,
  line,    // edges and cells
  packet,  // symbols, bytes, packets
  message,
  policy,
  host_bus,
  processor
};

// A line code, for each bit on the line.
struct LineFacts {
  double cells = 1;  // what the encoder is stepped by; edges are at least a cell apart
  // Edges of every bit, more (or fewer) of each 1, and of each bit unlike the one before.
  double edges_of_bit = 0;
  double edges_of_one = 0;
  double edges_of_change = 0;
  // The most, of bits all 0 and all 1; where it hangs on the bits before, of the worst pattern.
  double most_edges_of_0 = 0;
  double most_edges_of_1 = 0;
};

// The bits on a line, as symbol codes and stuffing leave them.
struct StreamFacts {
  double ones = 0.5;     // share of the bits
  double changes = 0.5;  // share of the bits unlike the one before
};

constexpr double mean_edges(const LineFacts& line, const StreamFacts& stream) {
  return line.edges_of_bit + stream.ones * line.edges_of_one + stream.changes * line.edges_of_change;
}

// What bytes are turned into on their way to the line.
struct SymbolFacts {
  double wire_bits_per_byte = 8;
  double most_zeros = 1;  // share of the bits of a symbol
  double most_ones = 1;
};

// The most edges for each bit over several symbols.
constexpr double most_edges(const LineFacts& line, const SymbolFacts& symbols) {
  const double more_of_0 = line.most_edges_of_0 - line.most_edges_of_1;
  return more_of_0 > 0 ? line.most_edges_of_1 + symbols.most_zeros * more_of_0
                       : line.most_edges_of_0 - symbols.most_ones * more_of_0;
}

// A bus to another chip at its usual rate.
struct BusFacts {
  double clocks_per_byte = 0;
  double clock_hz = 0;
  double byte_s() const { return clocks_per_byte / clock_hz; }
};

}  // namespace portweigh::blocks

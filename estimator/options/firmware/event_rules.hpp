// When a block's event comes, how often, and when it must be done: from the protocol's times to a schedule.
//
// b is the highest bit rate. While the line carries bits in one direction:
//   edge       at least 1/(2b) apart, on average 1.5 b a second (biphase-mark: one edge for a 0, two for a 1,
//              random data); over several bits at most 1.8 b, since no 4b5b symbol has more than four ones;
//              must be done before the next edge
//   half-cell  2 b a second, done within half a cell
//   byte       one in ten bits (two 5-bit symbols), done before the next
//   message    spread over its bytes as it arrives or leaves
//   step       `steps_per_message` for each message; done within the turn-round or the response time. A step
//              with the turn-round as its deadline is set off by the last bit of a message: until the answer
//              leaves, the line is silent, so it does not compete with a stream of edges
//   tick       one for each tick of the protocol's timers while attached
// Source of the edge counts: biphase-mark definition; tests/blocks/line/line_code_test.cpp counts them.
// Tested by tests/options/firmware/schedule_test.cpp.
#pragma once

#include <string_view>

#include "study/function.hpp"

namespace portweigh::options {

enum class Direction { receive, transmit, both };

struct EventRule {
  double period_s = 0;           // least time between two, in the long run
  double jitter_s = 0;           // by which two may come closer
  double deadline_s = 0;         // from the event's arrival
  double mean_rate_hz = 0;       // while the line is busy in this block's direction
  double attached_rate_hz = 0;   // goes on while attached, line busy or not
  double message_period_s = 0;   // least time between the ends of two messages
  double turn_round_s = 0;       // end of a message to the first bit of its answer
  bool is_interrupt = false;     // enters by an interrupt; the others are called from the main loop
  bool answers_message = false;  // set off by the end of a message, done before the answer leaves
  Direction direction = Direction::both;
};

// Bits for each byte on the wire, 4b5b coded.
inline constexpr double wire_bits_per_byte = 10;
// Events of the message layer and the policy for each message: message arrived or sent, its acknowledgement,
// its timer. Common practice.
inline constexpr double steps_per_message = 3;
// Bytes a second on a 100 kHz host bus: nine clocks each.
inline constexpr double host_bus_byte_s = 90e-6;

// Throws std::logic_error for an event that has no rule (a defect of the block).
EventRule rule_for(const study::FunctionBlock& block, std::string_view event, const study::Timing& timing);

}  // namespace portweigh::options

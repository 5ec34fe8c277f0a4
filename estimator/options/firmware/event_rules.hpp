// When a block's event comes, how often, and when it must be done: from the protocol's times to a schedule.
//
// b is the highest bit rate. While the line carries bits in one direction:
//   edge       as the line code makes them (blocks/protocol_facts.hpp); must be done before the next edge.
//              Biphase-mark: at least 1/(2b) apart, on average 1.5 b a second, over several bits at most
//              1.8 b, since no 4b5b symbol has more than four ones
//   half-cell  2 b a second where the code has edges in mid-bit, else b; done within it
//   byte       as the symbol code makes them, one in ten bits for 4b5b; done before the next
//   message    spread over its bytes as it arrives or leaves
//   bit        one after the other
//   step       `steps_per_message` for each message, as often as messages without pause bring them; done within
//              the turn-round or the response time. A step
//              with the turn-round as its deadline is set off by the last bit of a message: until the answer
//              leaves, the line is silent, so it does not compete with a stream of edges
//   tick       one for each tick of the protocol's timers while one runs; done before the next
// Tested by tests/options/firmware/event_rules_test.cpp and schedule_test.cpp.
#pragma once

#include "study/function.hpp"

namespace portweigh::options {

using study::Direction;

struct EventRule {
  double period_s = 0;    // least time between two, in the long run
  double jitter_s = 0;    // by which two may come closer
  double deadline_s = 0;  // from the event's arrival
  // While the line is busy in this block's direction: for each bit and each message, so how often.
  double per_bit = 0;
  double per_message = 0;
  double mean_rate_hz = 0;
  double attached_rate_hz = 0;   // goes on while attached, line busy or not
  double message_period_s = 0;   // least time between the ends of two messages
  double turn_round_s = 0;       // end of a message to the first bit of its answer
  bool is_interrupt = false;     // enters by an interrupt; the others are called from the main loop
  bool answers_message = false;  // set off by the end of a message, done before the answer leaves
  Direction direction = Direction::both;
};

// Events of the message layer and the policy for each message: message arrived or sent, its acknowledgement,
// its timer. Common practice.
inline constexpr double steps_per_message = 3;

// How the function's bytes become bits on the line: by its first block that says so, else plainly.
blocks::SymbolFacts symbols_of(const study::PortFunction& function);

// Edges for each bit on the function's own stream; 0 where it has no line code.
double mean_edges(const study::PortFunction& function);

// Messages a second without pause, each with its turn-round, at this bit rate.
double message_rate_hz(const study::Timing& timing, double bit_rate_hz);

// Throws std::logic_error for an event that has no rule (a defect of the block).
EventRule rule_for(const study::PortFunction& function, const study::FunctionBlock& block,
                   blocks::Event event);

// How often a network has to do with an event while the line is busy: for each bit and each message on the line,
// and beside them each second. One direction has half of the messages, as for firmware.
struct BusyRate {
  double per_bit = 0;
  double per_message = 0;
  double per_second_hz = 0;
};

// As rule_for; Event::clock and Event::given have none.
BusyRate busy_rate(const study::PortFunction& function, const study::FunctionBlock& block,
                   blocks::Event event);

}  // namespace portweigh::options

// The way between two engines on different chips: a bus, its pins, its bytes and the time they take.
//
// Bytes for each message on the line, by where the cut lies (layers in the order line code, framing,
// messages, policy): line code to framing all bits of the message; framing to messages its bytes; messages to
// policy header, objects and status; attachment, host registers and pins a state change now and then.
// Latency of an answer across the link: `answer_bytes` there and back. A bus is taken if every block beyond
// it can still meet its deadline, and what comes at the line's rate passes within the message (policy can
// keep the next message waiting, framing can't): I2C (3 pins with the interrupt line) before SPI (5 pins).
// Example: policy beyond I2C at 100 kHz: 12 bytes of 90 us, 1.08 ms of its 15 ms; the message layer's 195 us
// need SPI, 96 us. Byte times are common practice. Tested by tests/options/firmware/link_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "options/candidate.hpp"

namespace portweigh::options {

struct Link {
  std::string bus;  // of host-interface: "i2c", "spi", "uart"
  unsigned pins = 0;
  double byte_s = 0;
  double answer_s = 0;           // there and back, with the other side's latency
  double bytes_per_message = 0;  // over the link
};

struct NoLink {
  std::string reason;
  double needed_s = 0;
  double available_s = 0;
};

// Bytes that an answer takes on the bus, both ways. Chosen: address, register and data of a read of status
// and a short header (6), and as many to set off the answer.
inline constexpr double answer_bytes = 12;

// What the two sides offer: names of buses, the preferred first.
std::vector<std::string> buses_between(const Context& context, const Candidate& candidate);

struct LinkTraffic {
  double bytes = 0;               // for each message
  double bytes_at_line_rate = 0;  // of these, what can't wait until the message is over
};

LinkTraffic link_traffic(const Context& context, const std::vector<EngineKind>& engine_of_block);

// None where all blocks are in one chip; an answer of type NoLink where no bus is fast enough.
std::variant<std::monostate, Link, NoLink> choose_link(const Context& context, const Candidate& candidate);

// Whether the fabric needs an interface of its own for the link: always to a second chip, to the host only
// where the function has none in the fabric already.
bool needs_link_blocks(const Context& context, const Candidate& candidate);

// The link as blocks: an interface and registers on the fabric's side, a controller on the processor's.
// Beside a fixed-function controller, which can only be asked, the fabric is the one that asks.
enum class LinkRole { target, controller };
std::vector<BlockUse> link_blocks(const Link& link, LinkRole role = LinkRole::target);
LinkRole role_of_fabric(const Candidate& candidate);
study::FunctionBlock link_controller(const Link& link);

}  // namespace portweigh::options

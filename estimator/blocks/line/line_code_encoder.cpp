// Line codes as logic: encoders, stepped by a tick, with the output and its driver from registers.
//
// Biphase-mark ends a frame with one more transition, which clocks the last bit into the receiver, then holds
// the line low for a half cell at least before it lets go, as shared wires ask for.
// Tested by tests/blocks/line/line_code_test.cpp.
#include "blocks/line/line_code.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;

struct Port {
  logic::RegisterControl control;  // every tick
  Bit transmit;
  Bit data;
};

Port add_port(Network& net) {
  const Bit reset = logic::add_input(net, "reset");
  const Bit enable = logic::add_input(net, "enable");
  return {
      {.enable = enable, .reset = reset}, logic::add_input(net, "transmit"), logic::add_input(net, "data")};
}

void add_outputs(Bit line, Bit is_driving, Bit ready) {
  logic::add_output(line, "line");
  logic::add_output(is_driving, "line_enable");
  logic::add_output(ready, "ready");
}

Network biphase_mark_encoder() {
  Network net;
  const Port port = add_port(net);
  const Bit line = logic::add_register(net, "line_register");
  const Bit is_driving = logic::add_register(net, "is_driving");
  const Bit is_middle = logic::add_register(net, "is_middle");  // the next tick is a mid-bit
  const Bit is_tail = logic::add_register(net, "is_tail");

  const Bit ready = ~(is_middle | is_tail);
  const Bit starts_bit = ready & port.transmit;
  const Bit ends_frame = ready & ~port.transmit & is_driving;
  const Bit held = logic::registered("held", port.data, port.control);
  const Bit toggles = starts_bit | ends_frame | (is_middle & held);
  logic::connect(line, (line ^ toggles) & ~is_tail, port.control);
  logic::connect(is_middle, starts_bit | ends_frame, port.control);
  // Both change seldom, so that a synthesiser gives each an enable of its own.
  const Bit ends_tail = is_tail & ~is_middle;
  logic::connect(is_tail, !is_tail,
                 {.enable = *port.control.enable & (ends_frame | ends_tail), .reset = port.control.reset});
  logic::connect(is_driving, !is_tail,
                 {.enable = *port.control.enable & (starts_bit | ends_tail), .reset = port.control.reset});
  add_outputs(line, is_driving, ready);
  return net;
}

// The level of the first half is the complement of the bit; the middle always turns it.
Network manchester_encoder() {
  Network net;
  const Port port = add_port(net);
  const Bit line = logic::add_register(net, "line_register");
  const Bit is_middle = logic::add_register(net, "is_middle");
  const Bit is_driving = logic::add_register(net, "is_driving");
  const Bit starts_bit = ~is_middle & port.transmit;
  logic::connect(line, logic::select(is_middle, !line, port.transmit & ~port.data), port.control);
  logic::connect(is_middle, starts_bit, port.control);
  logic::connect(is_driving, starts_bit | is_middle, port.control);
  add_outputs(line, is_driving, !is_middle);
  return net;
}

Network level_encoder(LineCode code) {
  Network net;
  const Port port = add_port(net);
  const Bit line = logic::add_register(net, "line_register");
  const Bit next = code == LineCode::nrzi ? ~(line ^ port.data) : port.data;
  logic::connect(line, next & port.transmit, port.control);
  const Bit is_driving = logic::registered("is_driving", port.transmit, port.control);
  add_outputs(line, is_driving, logic::constant_bit(net, true));
  return net;
}

}  // namespace

Network line_encoder(LineCode code) {
  switch (code) {
    case LineCode::biphase_mark:
      return biphase_mark_encoder();
    case LineCode::manchester:
      return manchester_encoder();
    case LineCode::nrzi:
    case LineCode::nrz:
      break;
  }
  return level_encoder(code);
}

}  // namespace portweigh::blocks

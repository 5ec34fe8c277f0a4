// UART, eight data bits without parity, one stop bit, least significant bit first.
//
//   baud rate = clock / (16 * (divider + 1)),  divider 16 bits, an input so that it can change at run time
//
// Receiver: two synchroniser registers, start bit checked in its middle (a shorter pulse is passed over),
// then a sample in the middle of each bit, 16 ticks apart. A byte waits in a holding register until it is
// taken; a byte that finds the last one still there sets `overrun`; a missing stop bit sets `framing_error`.
// Example: 48 MHz, 115200 baud: divider = 48e6 / (16 * 115200) - 1 = 25. Tested by
// tests/blocks/host_bus/serial_interface_test.cpp.
#include "blocks/host_bus/host_interface.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;
constexpr unsigned divider_bits = 16;

// One pulse every divider + 1 clocks, 16 pulses a bit.
Bit add_tick(Network& network, Bit reset) {
  const Word divider = add_input_word(network, "divider", divider_bits);
  const Word count = add_registers(network, "prescaler", divider_bits);
  const Bit expired = count == 0U;
  connect(count, select(expired, divider, count - 1U), {.reset = reset});
  return registered("tick", expired, {.reset = reset});
}

void add_sender(Network& network, Bit reset, Bit tick) {
  const Word data = add_input_word(network, "transmit", byte_bits);
  const Bit valid = add_input(network, "transmit_valid");
  const Bit busy = add_register(network, "sender_busy");
  const Word phase = add_registers(network, "sender_phase", 4);
  const Word bit_count = add_registers(network, "sender_bit", 4);
  const Word shift = add_registers(network, "sender_shift", byte_bits + 1);

  const Bit load = valid & (~busy);
  const Bit bit_ends = busy & tick & all(phase);
  const Bit frame_ends = bit_ends & (bit_count == 9U);
  connect(busy, load | (busy & (~frame_ends)), {.reset = reset});
  connect(phase, phase + 1U, {.enable = tick, .reset = reset | load});
  connect(bit_count, bit_count + 1U, {.enable = bit_ends, .reset = reset | load});
  const Bit one = constant_bit(network, true);
  const Word frame = concatenate(Word(constant_bit(network, false)), data);
  connect(shift, select(load, frame, shifted_right(shift, 1, one)),
          {.enable = load | bit_ends, .reset = reset, .reset_value = 0x1FF});
  add_output(shift[0], "txd");
  add_output(~busy, "transmit_ready");
}

struct Frame {
  Word data;
  Bit ends;
  Bit stop_bit;
};

Frame add_frame_receiver(Network& network, Bit reset, Bit tick) {
  const logic::RegisterControl idle_high{.reset = reset, .reset_value = 1};
  const Bit rxd =
      registered("rxd_synchronised", registered("rxd_meta", add_input(network, "rxd"), idle_high), idle_high);
  const Bit busy = add_register(network, "receiver_busy");
  const Bit in_start = add_register(network, "receiver_in_start");
  const Word phase = add_registers(network, "receiver_phase", 4);
  const Word bit_count = add_registers(network, "receiver_bit", 4);
  const Word shift = add_registers(network, "receiver_shift", byte_bits);

  const Bit begins = (~busy) & (~rxd) & tick;
  const Bit start_middle = tick & in_start & (phase == 6U);
  const Bit is_false_start = start_middle & rxd;
  const Bit sample = tick & busy & (~in_start) & all(phase);
  const Bit ends = sample & bit_count.top();
  connect(busy, begins | (busy & (~is_false_start) & (~ends)), {.reset = reset});
  connect(in_start, begins | (in_start & (~start_middle)), {.reset = reset});
  connect(phase, phase + 1U, {.enable = tick & busy, .reset = reset | begins | start_middle});
  connect(bit_count, bit_count + 1U, {.enable = sample, .reset = reset | begins});
  connect(shift, concatenate(shift.slice(1, byte_bits - 1), Word(rxd)),
          {.enable = sample & (~bit_count.top())});
  return {shift, ends, rxd};
}

void add_receiver(Network& network, Bit reset, Bit tick) {
  const Bit take = add_input(network, "received_take");
  const Frame frame = add_frame_receiver(network, reset, tick);
  const Bit is_good = frame.ends & frame.stop_bit;
  const Bit valid = add_register(network, "received_valid_register");
  connect(valid, is_good | (valid & (~take)), {.reset = reset});
  const Word received = registered("received_register", frame.data, {.enable = is_good, .reset = reset});
  const Bit overrun = add_register(network, "overrun_register");
  connect(overrun, (is_good & valid & (~take)) | (overrun & (~take)), {.reset = reset});
  const Bit framing_error =
      registered("framing_error_register", ~frame.stop_bit, {.enable = frame.ends, .reset = reset});
  add_output(received, "received");
  add_output(valid, "received_valid");
  add_output(overrun, "overrun");
  add_output(framing_error, "framing_error");
}

}  // namespace

Network uart_network(UartDirection direction) {
  Network network;
  const Bit reset = add_input(network, "reset");
  const Bit tick = add_tick(network, reset);
  if (direction != UartDirection::decode) add_sender(network, reset, tick);
  if (direction != UartDirection::encode) add_receiver(network, reset, tick);
  return network;
}

}  // namespace portweigh::blocks

// SPI and UART in firmware: interrupt bodies for a peripheral, and the lines moved by hand.
//
// Interrupts move a byte between the peripheral and a buffer; UART rings hold 64 bytes and drop what does not
// fit. By hand, SPI works in mode 0 with the most significant bit first; UART bits are paced by a timer whose
// flag is polled, and its first receive period is one and a half bits. Tested by
// tests/blocks/host_bus/host_interface_routine_test.cpp.
#include "blocks/host_bus/host_interface_routine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Place;
using firmware::Routine;

constexpr unsigned ring_mask = ring_bytes - 1;
constexpr unsigned file_mask = register_file_bytes - 1;

// Stores a received byte unless the peripheral reports an error or the ring is full.
void receive_into_ring(Routine& r, const Place& data, const firmware::Expression& flags) {
  const auto ring = r.array_u8("received", ring_bytes);
  const auto head = r.state_u8("received_head");
  const auto tail = r.state_u8("received_tail");
  const auto errors = r.state_u8("errors");
  const auto next = r.local_u8("next_head");
  const auto byte = r.local_u8("byte");
  r.set(byte, data);  // reading the data clears the request
  r.if_((flags & (uart_flag::framing_error | uart_flag::overrun)) != 0, [&] {
    r.set(errors, errors + 1);
    r.return_();
  });
  r.set(next, (head + 1) & ring_mask);
  r.if_(next != tail, [&] {
    r.set(ring[head], byte);
    r.set(head, next);
  });
}

void transmit_from_ring(Routine& r, const Place& data, const Place& control) {
  const auto ring = r.array_u8("transmitted", ring_bytes);
  const auto head = r.state_u8("transmitted_head");
  const auto tail = r.state_u8("transmitted_tail");
  r.if_else(
      head != tail,
      [&] {
        r.set(data, ring[tail]);
        r.set(tail, (tail + 1) & ring_mask);
      },
      [&] { r.set(control, control & (0xFFU ^ uart_flag::transmit_empty)); });
}

void wait_timer(Routine& r, const Place& flags) {
  r.while_((flags & 1U) == 0, [] {});
  r.set(flags, 0);
}

void set_line(Routine& r, const Place& drive, const firmware::Expression& level, unsigned line) {
  r.if_else(
      level, [&] { r.set(drive, drive | line); }, [&] { r.set(drive, drive & (0xFFU ^ line)); });
}

void receive_by_hand(Routine& r, const Place& pins, const Place& timer) {
  const auto i = r.local_u8("received_bits");
  const auto value = r.local_u8("received_value");
  r.set(value, 0);
  r.for_count(i, 8, [&] {
    wait_timer(r, timer);
    r.set(value, value >> 1);
    r.if_((pins & host_pins::rxd) != 0, [&] { r.set(value, value | 0x80); });
  });
  wait_timer(r, timer);
  r.if_((pins & host_pins::rxd) == 0, [&] { r.return_(cast_u16(value) | 0x100); });
  r.return_(cast_u16(value));
}

void transmit_by_hand(Routine& r, const Place& byte, const Place& drive, const Place& timer) {
  const auto i = r.local_u8("sent_bits");
  const auto value = r.local_u8("sent_value");
  r.set(value, byte);
  wait_timer(r, timer);
  r.set(drive, drive & (0xFFU ^ host_pins::txd));
  r.for_count(i, 8, [&] {
    wait_timer(r, timer);
    set_line(r, drive, (value & 1) != 0, host_pins::txd);
    r.set(value, value >> 1);
  });
  wait_timer(r, timer);
  r.set(drive, drive | host_pins::txd);
}

}  // namespace

Routine spi_target_interrupt() {
  Routine r("spi_target_interrupt");
  const auto data = r.port_u8("data");
  const auto received = r.array_u8("received", ring_bytes);
  const auto transmitted = r.array_u8("transmitted", ring_bytes);
  const auto head = r.state_u8("received_head");
  const auto tail = r.state_u8("received_tail");
  const auto sent = r.state_u8("transmitted_tail");
  const auto byte = r.local_u8("byte");
  const auto next = r.local_u8("next_head");
  r.set(byte, data);
  r.set(data, transmitted[sent]);
  r.set(sent, (sent + 1) & ring_mask);
  r.set(next, (head + 1) & ring_mask);
  r.if_(next != tail, [&] {
    r.set(received[head], byte);
    r.set(head, next);
  });
  return r;
}

Routine spi_controller_interrupt() {
  Routine r("spi_controller_interrupt");
  const auto data = r.port_u8("data");
  const auto drive = r.port_u8("drive");
  const auto buffer = r.array_u8("buffer", register_file_bytes);
  const auto index = r.state_u8("index");
  const auto length = r.state_u8("length");
  const auto is_done = r.state_u8("is_done");
  r.set(buffer[index & file_mask], data);
  r.set(index, index + 1);
  r.if_else(
      index < length, [&] { r.set(data, buffer[index & file_mask]); },
      [&] {
        r.set(drive, drive | 1);  // chip select, active low
        r.set(is_done, 1);
      });
  return r;
}

Routine uart_receive_interrupt() {
  Routine r("uart_receive_interrupt");
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto flags = r.local_u8("flags");
  r.set(flags, status);  // before the data, which clear it
  receive_into_ring(r, data, flags);
  return r;
}

Routine uart_transmit_interrupt() {
  Routine r("uart_transmit_interrupt");
  const auto data = r.port_u8("data");
  const auto control = r.port_u8("control");
  transmit_from_ring(r, data, control);
  return r;
}

Routine uart_interrupt() {
  Routine r("uart_interrupt");
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto control = r.port_u8("control");
  const auto flags = r.local_u8("flags");
  r.set(flags, status);
  r.if_((flags & uart_flag::transmit_empty) != 0, [&] { transmit_from_ring(r, data, control); });
  r.if_((flags & uart_flag::received) != 0, [&] { receive_into_ring(r, data, flags); });
  return r;
}

Routine spi_target_bit_banged() {
  Routine r("spi_target_byte");
  const auto byte = r.parameter_u8("byte");
  const auto pins = r.port_u8("pins");
  const auto drive = r.port_u8("drive");
  const auto i = r.local_u8("i");
  const auto value = r.local_u8("value");
  r.set(value, byte);
  r.for_count(i, 8, [&] {
    set_line(r, drive, (value & 0x80) != 0, host_pins::miso);
    r.set(value, value << 1);
    r.while_((pins & host_pins::sck) == 0, [] {});
    r.if_((pins & host_pins::mosi) != 0, [&] { r.set(value, value | 1); });
    r.while_((pins & host_pins::sck) != 0, [] {});
  });
  r.return_(value);
  return r;
}

Routine spi_controller_bit_banged() {
  Routine r("spi_controller_byte");
  const auto byte = r.parameter_u8("byte");
  const auto pins = r.port_u8("pins");
  const auto drive = r.port_u8("drive");
  const auto i = r.local_u8("i");
  const auto value = r.local_u8("value");
  r.set(value, byte);
  r.for_count(i, 8, [&] {
    set_line(r, drive, (value & 0x80) != 0, host_pins::mosi);
    r.set(value, value << 1);
    r.set(drive, drive | host_pins::sck);
    r.if_((pins & host_pins::miso) != 0, [&] { r.set(value, value | 1); });
    r.set(drive, drive & (0xFFU ^ host_pins::sck));
  });
  r.return_(value);
  return r;
}

Routine uart_receive_bit_banged() {
  Routine r("uart_receive_byte");
  const auto pins = r.port_u8("pins");
  const auto timer = r.port_u8("timer");
  receive_by_hand(r, pins, timer);
  return r;
}

Routine uart_transmit_bit_banged() {
  Routine r("uart_transmit_byte");
  const auto byte = r.parameter_u8("byte");
  const auto drive = r.port_u8("drive");
  const auto timer = r.port_u8("timer");
  transmit_by_hand(r, byte, drive, timer);
  return r;
}

Routine uart_bit_banged() {
  Routine r("uart_byte");
  const auto byte = r.parameter_u8("byte");
  const auto is_receiving = r.parameter_u8("is_receiving");
  const auto pins = r.port_u8("pins");
  const auto drive = r.port_u8("drive");
  const auto timer = r.port_u8("timer");
  r.if_(is_receiving, [&] { receive_by_hand(r, pins, timer); });
  transmit_by_hand(r, byte, drive, timer);
  r.return_(0);
  return r;
}

}  // namespace portweigh::blocks

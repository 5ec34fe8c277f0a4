// Firmware of the host interface: interrupt bodies for a peripheral, and the same bus moved bit by bit.
//
// Each function gives one routine whose event is a byte. Names of ports, arrays and state are fixed here, so
// that tests and the runs that count can connect a bus model.
//
// Tested by tests/blocks/host_interface_routine_test.cpp.
#pragma once

#include <cstddef>

#include "firmware/routine.hpp"

namespace portweigh::blocks {

// Bits of the pins that bit-banged routines move: inputs in port "pins", outputs in "drive" (open-drain
// lines: a 1 in "drive" pulls the line low).
namespace host_pins {
inline constexpr unsigned scl = 0x01, sda = 0x02, sck = 0x01, mosi = 0x02, miso = 0x04, rxd = 0x01,
                          txd = 0x02;
}

// What an I2C peripheral reports in port "status"; codes as they are commonly used for two-wire units.
namespace i2c_event {
inline constexpr unsigned started = 0x08, restarted = 0x10, write_accepted = 0x18, write_refused = 0x20,
                          sent_accepted = 0x28, sent_refused = 0x30, arbitration_lost = 0x38,
                          read_accepted = 0x40, read_refused = 0x48, received = 0x50, received_last = 0x58,
                          addressed_to_write = 0x60, data_received = 0x80, stopped = 0xA0,
                          addressed_to_read = 0xA8, data_sent = 0xB8, data_refused = 0xC0;
}
// What the interrupt bodies write to port "control".
namespace i2c_action {
inline constexpr unsigned go_on = 0x80, acknowledge = 0x40, stop = 0x10;
}
namespace uart_flag {
inline constexpr unsigned received = 0x01, framing_error = 0x02, overrun = 0x04, transmit_empty = 0x08;
}

inline constexpr std::size_t register_file_bytes = 16;
inline constexpr std::size_t ring_bytes = 64;

firmware::Routine i2c_target_interrupt();
firmware::Routine i2c_controller_interrupt();
firmware::Routine spi_target_interrupt();
firmware::Routine spi_controller_interrupt();
firmware::Routine uart_receive_interrupt();
firmware::Routine uart_transmit_interrupt();
// Both in one handler that asks the flags.
firmware::Routine uart_interrupt();

// Parameters: byte, is_read, refuse. Gives the byte read, or 1 where a written byte was refused.
firmware::Routine i2c_controller_bit_banged();
// Parameters: byte, is_read (the controller reads). Gives the byte received, or 1 where it refused more.
firmware::Routine i2c_target_bit_banged();
// Parameter: byte to send; gives the byte received.
firmware::Routine spi_target_bit_banged();
firmware::Routine spi_controller_bit_banged();
// Receiver: called at the falling edge of a start bit; gives the byte, 0x100 added for a framing error.
firmware::Routine uart_receive_bit_banged();
// Parameter: byte to send.
firmware::Routine uart_transmit_bit_banged();
// Parameters: byte, is_receiving.
firmware::Routine uart_bit_banged();

}  // namespace portweigh::blocks

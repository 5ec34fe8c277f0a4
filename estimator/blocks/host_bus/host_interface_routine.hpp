// Firmware of the host interface: interrupt bodies for a peripheral, and the same bus moved bit by bit.
//
// Each function gives one routine whose event is a byte. Names of ports, arrays and state are fixed here, so
// that tests and the runs that count can connect a bus model.
//
// Tested by tests/blocks/host_bus/host_interface_routine_test.cpp.
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

// What an I2C unit reports in port "status", one flag an interrupt; the unit holds SCL low until it may go
// on.
namespace i2c_event {
inline constexpr unsigned started = 0x01,  // controller: the address is due
    accepted = 0x02,                       // controller: a byte was sent and acknowledged
    received = 0x04,                       // a byte stands in "data"
    wanted = 0x08,                         // target: the controller reads and wants a byte
    addressed = 0x10,                      // target: to be written
    ended = 0x20,                          // target: stop, repeated start or the reader has enough
    failed = 0x40;                         // a byte refused, the bus lost, a misplaced condition
}
// What the interrupt bodies write to port "control".
namespace i2c_action {
inline constexpr unsigned go_on = 0x01, acknowledge = 0x02, stop = 0x04;
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

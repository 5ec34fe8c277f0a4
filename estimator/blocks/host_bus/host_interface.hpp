// Host interface: I2C, SPI or UART between the port function and the processor that looks after it.
//
// The networks are made by functions that add them to a network, so that a register bank or another block
// can be joined to them. Lines are named from the network's point of view; open-drain lines come as an
// input and a `..._low` output that pulls the line down.
//
// Tested by tests/blocks/host_bus/host_interface_test.cpp, i2c_target_test.cpp, i2c_controller_test.cpp,
// serial_interface_test.cpp and host_interface_routine_test.cpp.
#pragma once

#include <functional>

#include "blocks/kind.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {

Kind host_interface_kind();

enum class HostBus : std::uint8_t { i2c, spi, uart };
enum class HostRole : std::uint8_t { target, controller };
enum class UartDirection : std::uint8_t { encode, decode, both };

struct HostInterfaceShape {
  HostBus bus = HostBus::i2c;
  HostRole role = HostRole::target;
  UartDirection direction = UartDirection::both;
};
HostInterfaceShape host_interface_shape(const Settings& settings);

// --- I2C target -------------------------------------------------------------------------------------

// What a target asks of the registers behind it. `read` and `write` are strobes of one clock, in which
// address and write data are valid; a read address holds until the data are taken at the end of the
// acknowledge, half an SCL period later.
struct RegisterAccess {
  logic::Word address;  // 8 bits, counts up after each byte
  logic::Bit write;
  logic::Word write_data;
  logic::Bit read;
};
struct I2cTargetInputs {
  logic::Bit reset;
  logic::Bit scl;
  logic::Bit sda;
  logic::Word device_address;  // 7 bits
};
struct I2cTargetSignals {
  logic::Bit sda_low;
  logic::Bit is_selected;  // between an own address and the next start or stop
};
// `attach` is called once with the access and returns the 8 bits of read data.
I2cTargetSignals add_i2c_target(logic::Network& network, const I2cTargetInputs& inputs,
                                const std::function<logic::Word(const RegisterAccess&)>& attach);
// Clocks of the network that a level must last to pass the synchroniser and filter of an I2C line.
inline constexpr unsigned i2c_filter_clocks = 6;

logic::Network i2c_target_network();

// --- I2C controller ---------------------------------------------------------------------------------

// Instructions for the controller, written with the strobe `write`:
//
//   bits 15..14   13..9    bit 8    bits 7..0, or 9..0 of a rate
//   rate          13..10: filter    clocks of a step less one, at least 1; all else is forgotten at once
//   condition              notify   bit 0: stop, else start (a repeated one where the bus is held)
//   send                   notify   the byte, most significant bit first on the bus
//   receive                notify   bit 0: refuse further bytes, else acknowledge
//
// A bit on the bus is nine steps; a pulse on a line passes where it lasts more clocks than the filter says.
// Both have no reset value and are set before anything else. Instructions are written while the report says
// not full; `notify` raises the interrupt as the instruction ends.
enum class I2cInstruction : std::uint8_t { rate, condition, send, receive };
inline constexpr unsigned i2c_instruction_bits = 16, i2c_instruction_shift = 14, i2c_rate_bits = 10,
                          i2c_filter_bits = 4;
// From a pin to the step that follows, beyond the clocks of the filter.
inline constexpr unsigned i2c_line_delay_clocks = 3;
namespace i2c_option {
inline constexpr unsigned stop = 0x001, refuse = 0x001, notify = 0x100;
}
// Word `report`: the byte last received, and what else the host wants to know. The strobe `take` clears
// `refused`, `lost` and `notified` (which is the interrupt).
namespace i2c_report {
inline constexpr unsigned byte = 0x00FF, refused = 0x0100, lost = 0x0200, holds_bus = 0x0400,
                          bus_busy = 0x0800, full = 0x1000, notified = 0x2000;
}
logic::Network i2c_controller_network();

// --- SPI and UART -----------------------------------------------------------------------------------

logic::Network spi_target_network();
logic::Network spi_controller_network();
logic::Network uart_network(UartDirection direction);

// --- Traffic and firmware ---------------------------------------------------------------------------

// Clocks that a byte takes on the bus in this traffic, addresses counted as bytes.
double traffic_clocks_per_byte(const HostInterfaceShape& shape);
Drive host_interface_traffic(const HostInterfaceShape& shape, TrafficState state, std::uint64_t seed);

enum class HostMethod : std::uint8_t { interrupt, bit_banged };
firmware::Routine host_interface_routine(const HostInterfaceShape& shape, HostMethod method);
FirmwareRun run_host_interface(const HostInterfaceShape& shape, HostMethod method);

}  // namespace portweigh::blocks

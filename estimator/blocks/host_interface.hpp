// Host interface: I2C, SPI or UART between the port function and the processor that looks after it.
//
// The networks are made by functions that add them to a network, so that a register bank or another block
// can be joined to them. Lines are named from the network's point of view; open-drain lines come as an
// input and a `..._low` output that pulls the line down.
//
// Tested by tests/blocks/host_interface_test.cpp, i2c_target_test.cpp, i2c_controller_test.cpp,
// serial_interface_test.cpp and host_interface_routine_test.cpp.
#pragma once

#include <functional>

#include "blocks/kind.hpp"
#include "logic/word.hpp"

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

// Register addresses of the controller: prescaler (16 bits; an SCL phase is prescaler + 1 clocks, a bit five
// phases), control, data (write: to send, read: received), command (write) and status (read). Reading on, the
// data to send and the command come back.
enum class I2cRegister : std::uint8_t { prescaler_low, prescaler_high, control, data, command };
namespace i2c_control {
inline constexpr unsigned enable = 0x80, interrupt_enable = 0x40;
}
namespace i2c_command {
inline constexpr unsigned start = 0x80, stop = 0x40, read = 0x20, write = 0x10, refuse = 0x08,
                          clear_interrupt = 0x01;
}
namespace i2c_status {
inline constexpr unsigned refused = 0x80, bus_busy = 0x40, arbitration_lost = 0x20, in_progress = 0x02,
                          interrupt = 0x01;
}
logic::Network i2c_controller_network();

// --- SPI and UART -----------------------------------------------------------------------------------

logic::Network spi_target_network();
logic::Network spi_controller_network();
logic::Network uart_network(UartDirection direction);

// --- Traffic and firmware ---------------------------------------------------------------------------

Drive host_interface_traffic(const HostInterfaceShape& shape, TrafficState state, std::uint64_t seed);

enum class HostMethod : std::uint8_t { interrupt, bit_banged };
firmware::Routine host_interface_routine(const HostInterfaceShape& shape, HostMethod method);
FirmwareRun run_host_interface(const HostInterfaceShape& shape, HostMethod method);

}  // namespace portweigh::blocks

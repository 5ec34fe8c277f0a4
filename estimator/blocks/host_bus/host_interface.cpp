// The kind `host-interface`: which bus, which role, and what follows from them.
//
// Pins: I2C two open-drain lines; SPI target three inputs and one output, controller the other way round;
// UART one line for each direction. Firmware: an interrupt a byte from the peripheral, or the lines moved by
// hand where the part has no such peripheral.
// Tested by tests/blocks/host_bus/host_interface_test.cpp.
#include "blocks/host_bus/host_interface.hpp"

#include <stdexcept>

#include "blocks/host_bus/host_interface_routine.hpp"

namespace portweigh::blocks {
namespace {

HostMethod host_method(std::string_view method) {
  if (method == "interrupt") return HostMethod::interrupt;
  if (method == "bit-banged") return HostMethod::bit_banged;
  throw std::logic_error("host-interface has no method " + std::string(method));
}

logic::Network host_interface_network(const Settings& settings) {
  const HostInterfaceShape shape = host_interface_shape(settings);
  const bool is_target = shape.role == HostRole::target;
  switch (shape.bus) {
    case HostBus::i2c:
      return is_target ? i2c_target_network() : i2c_controller_network();
    case HostBus::spi:
      return is_target ? spi_target_network() : spi_controller_network();
    case HostBus::uart:
      break;
  }
  return uart_network(shape.direction);
}

// Clocks: eight bits and an acknowledgement (UM10204 of I2C, 3.1.5 and 3.1.6); eight bits; a start bit, eight
// bits and a stop bit. Rates: I2C's standard mode, and for the others common practice.
BusFacts bus_facts(HostBus bus) {
  switch (bus) {
    case HostBus::i2c:
      return {.clocks_per_byte = 9, .clock_hz = 100e3};
    case HostBus::spi:
      return {.clocks_per_byte = 8, .clock_hz = 1e6};
    case HostBus::uart:
      break;
  }
  return {.clocks_per_byte = 10, .clock_hz = 115.2e3};
}

Pins host_interface_pins(const Settings& settings) {
  const HostInterfaceShape shape = host_interface_shape(settings);
  switch (shape.bus) {
    case HostBus::i2c:
      return {.bidirectional = 2};
    case HostBus::spi:
      return shape.role == HostRole::target ? Pins{.digital_inputs = 3, .digital_outputs = 1}
                                            : Pins{.digital_inputs = 1, .digital_outputs = 3};
    case HostBus::uart:
      break;
  }
  return {.digital_inputs = shape.direction == UartDirection::encode ? 0U : 1U,
          .digital_outputs = shape.direction == UartDirection::decode ? 0U : 1U};
}

std::vector<std::string> host_interface_peripherals(const Settings& settings, std::string_view method) {
  if (host_method(method) == HostMethod::bit_banged) return {};
  const std::string& bus = settings.choice("bus");
  if (bus == "uart") return {"uart"};
  return {bus + "-" + settings.choice("role")};
}

firmware::Routine uart_routine(UartDirection direction, HostMethod method) {
  const bool is_interrupt = method == HostMethod::interrupt;
  switch (direction) {
    case UartDirection::encode:
      return is_interrupt ? uart_transmit_interrupt() : uart_transmit_bit_banged();
    case UartDirection::decode:
      return is_interrupt ? uart_receive_interrupt() : uart_receive_bit_banged();
    case UartDirection::both:
      break;
  }
  return is_interrupt ? uart_interrupt() : uart_bit_banged();
}

}  // namespace

HostInterfaceShape host_interface_shape(const Settings& settings) {
  HostInterfaceShape shape;
  const std::string& bus = settings.choice("bus");
  shape.bus = bus == "i2c" ? HostBus::i2c : bus == "spi" ? HostBus::spi : HostBus::uart;
  shape.role = settings.choice("role") == "target" ? HostRole::target : HostRole::controller;
  const std::string& direction = settings.choice("direction");
  shape.direction = direction == "encode"   ? UartDirection::encode
                    : direction == "decode" ? UartDirection::decode
                                            : UartDirection::both;
  return shape;
}

firmware::Routine host_interface_routine(const HostInterfaceShape& shape, HostMethod method) {
  const bool is_interrupt = method == HostMethod::interrupt;
  const bool is_target = shape.role == HostRole::target;
  switch (shape.bus) {
    case HostBus::i2c:
      if (is_target) return is_interrupt ? i2c_target_interrupt() : i2c_target_bit_banged();
      return is_interrupt ? i2c_controller_interrupt() : i2c_controller_bit_banged();
    case HostBus::spi:
      if (is_target) return is_interrupt ? spi_target_interrupt() : spi_target_bit_banged();
      return is_interrupt ? spi_controller_interrupt() : spi_controller_bit_banged();
    case HostBus::uart:
      break;
  }
  return uart_routine(shape.direction, method);
}

Kind host_interface_kind() {
  Kind kind;
  kind.name = "host-interface";
  kind.summary = "I2C, SPI or UART to the processor that looks after the port";
  kind.spread_class = "host-interface";
  kind.settings = {
      {"bus", "the bus", ChoiceDomain{{"i2c", "spi", "uart"}, "i2c"}},
      {"role", "who clocks the bus: the other side (target) or this one (controller); not for uart",
       ChoiceDomain{{"target", "controller"}, "target"}},
      {"direction", "uart only: send (encode), receive (decode) or both",
       ChoiceDomain{{"encode", "decode", "both"}, "both"}},
  };
  kind.network = host_interface_network;
  kind.traffic = [](const Settings& settings, TrafficState state, std::uint64_t seed) {
    return host_interface_traffic(host_interface_shape(settings), state, seed);
  };
  kind.methods = {{"interrupt", {}}, {"bit-banged", {}}};
  kind.peripherals = host_interface_peripherals;
  kind.run = [](const Settings& settings, std::string_view method) {
    return run_host_interface(host_interface_shape(settings), host_method(method));
  };
  kind.pins = host_interface_pins;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings& settings) {
    return Pace{Event::byte, traffic_clocks_per_byte(host_interface_shape(settings))};
  };
  kind.stage = Stage::host_bus;
  kind.bus = [](const Settings& settings) { return bus_facts(host_interface_shape(settings).bus); };
  return kind;
}

}  // namespace portweigh::blocks

// I2C target with register address and auto-increment, as most port controllers show themselves to a host.
//
// Write: own address, register address, data ... ; read: own address with the read bit, data ... from the
// register address that is now set; it counts up after each byte. SCL is never held low, so the clock of the
// network must be at least some 20 times SCL (filter of 6 clocks and the read of a register within a low).
//
//   bit_count 0..7: bits of a byte, 8: acknowledge on its way, 9: acknowledge given
//
// Counting is done on rising SCL, the line changes on falling SCL, states change at the end of the
// acknowledge. Bus rules: I2C-bus specification from memory [M], standard and fast mode.
// Tested by tests/blocks/host_bus/i2c_target_test.cpp against a bus model of its own.
#include "blocks/host_bus/host_interface.hpp"
#include "blocks/host_bus/i2c_line.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;

enum class State : std::uint8_t { idle, address, pointer, write, read };
constexpr unsigned state_bits = 3;

Word state_word(Network& network, State state) {
  return constant_word(network, static_cast<std::uint64_t>(state), state_bits);
}

// What the target sees of the bus in this clock.
struct BusEvents {
  Bit rises, falls, start, stop, sda;
};

BusEvents add_bus_events(const I2cTargetInputs& inputs) {
  const I2cLine scl = add_i2c_line("scl", inputs.scl, inputs.reset);
  const I2cLine sda = add_i2c_line("sda", inputs.sda, inputs.reset);
  const Bit scl_stays_high = scl.level & scl.previous;
  return {scl.rises(), scl.falls(), scl_stays_high & sda.falls(), scl_stays_high & sda.rises(), sda.level};
}

// Where in a byte the transfer is, and what that asks for.
struct Position {
  Bit is_address, is_pointer, is_write, is_read;
  Bit is_receiving, is_selected;
  Bit byte_ends;         // SCL falls after the eighth bit
  Bit acknowledge_ends;  // and after the ninth
  Bit acknowledges;      // SCL is high in the ninth, seen at its rise
};

Position position_of(const Word& state, const Word& bit_count, const BusEvents& bus) {
  const auto is = [&](State which) { return state == static_cast<std::uint64_t>(which); };
  const Bit is_address = is(State::address);
  const Bit is_pointer = is(State::pointer);
  const Bit is_write = is(State::write);
  const Bit is_eight = bit_count == byte_bits;
  return {.is_address = is_address,
          .is_pointer = is_pointer,
          .is_write = is_write,
          .is_read = is(State::read),
          .is_receiving = is_address | is_pointer | is_write,
          .is_selected = any(state),
          .byte_ends = bus.falls & is_eight,
          .acknowledge_ends = bus.falls & (bit_count == byte_bits + 1U),
          .acknowledges = bus.rises & any(state) & is_eight};
}

// Later assignments win, as in a clocked process.
void connect_state(const Word& state, const Position& at, const BusEvents& bus, Bit is_own, Bit wants_read,
                   Bit reset) {
  Network& network = state.network();
  const auto to = [&](State which) { return state_word(network, which); };
  Word next = state;
  next = select(at.acknowledges & at.is_read & bus.sda, to(State::idle), next);
  next = select(at.byte_ends & at.is_address & (~is_own), to(State::idle), next);
  next = select(at.acknowledge_ends & at.is_address, select(wants_read, to(State::read), to(State::pointer)),
                next);
  next = select(at.acknowledge_ends & at.is_pointer, to(State::write), next);
  next = select(bus.start, to(State::address), next);
  next = select(bus.stop, to(State::idle), next);
  connect(state, next, {.reset = reset});
}

}  // namespace

I2cTargetSignals add_i2c_target(Network& network, const I2cTargetInputs& inputs,
                                const std::function<Word(const RegisterAccess&)>& attach) {
  const Bit reset = inputs.reset;
  const BusEvents bus = add_bus_events(inputs);
  const Word state = add_registers(network, "state", state_bits);
  const Word bit_count = add_registers(network, "bit_count", 4);
  const Word shift = add_registers(network, "shift", byte_bits);
  const Word pointer = add_registers(network, "pointer", byte_bits);
  const Position at = position_of(state, bit_count, bus);
  const Bit is_own = shift.slice(1, 7) == inputs.device_address;
  const Bit wants_read = shift[0];
  connect_state(state, at, bus, is_own, wants_read, reset);

  Word next_count = select(bus.rises & at.is_selected, bit_count + 1U, bit_count);
  next_count = select(at.acknowledge_ends | bus.start, constant_word(network, 0, 4), next_count);
  connect(bit_count, next_count, {.reset = reset});

  // The strobes are registered; address and data hold long after them.
  const Bit write_strobe = registered("write_strobe", at.byte_ends & at.is_write, {.reset = reset});
  const Bit accepted_read = (at.is_address & wants_read) | (at.is_read & (~bus.sda));
  const Bit read_strobe = registered("read_strobe", at.acknowledges & accepted_read, {.reset = reset});
  const Word read_data = attach({pointer, write_strobe, shift, read_strobe});

  // Received bits enter at a rising SCL; a byte to send is loaded as its acknowledge ends.
  const Bit load = at.acknowledge_ends & (at.is_read | (at.is_address & wants_read));
  const Bit shift_in = bus.rises & at.is_receiving & (~bit_count[3]);
  const Bit shift_out = bus.falls & at.is_read & (bit_count != 0U) & (~bit_count[3]);
  connect(shift, select(load, read_data, shifted_left(shift, 1, bus.sda)),
          {.enable = load | shift_in | shift_out});

  const Bit count_up = registered("count_up", (at.byte_ends & at.is_write) | load, {.reset = reset});
  connect(pointer, select(at.byte_ends & at.is_pointer, shift, select(count_up, pointer + 1U, pointer)));

  const Bit sda_low = add_register(network, "sda_low_register");
  const Bit accepts = at.byte_ends & ((at.is_address & is_own) | at.is_pointer | at.is_write);
  Bit next_low = sda_low & (~bus.falls);
  next_low = next_low | accepts | (load & (~read_data.top())) | (shift_out & (~shift[byte_bits - 2]));
  connect(sda_low, next_low & (~(bus.start | bus.stop)), {.reset = reset});
  return {sda_low, at.is_selected};
}

Network i2c_target_network() {
  Network network;
  const I2cTargetInputs inputs{add_input(network, "reset"), add_input(network, "scl"),
                               add_input(network, "sda"), add_input_word(network, "device_address", 7)};
  const Word read_data = add_input_word(network, "read_data", byte_bits);
  const I2cTargetSignals target = add_i2c_target(network, inputs, [&](const RegisterAccess& access) {
    add_output(access.address, "address");
    add_output(access.write, "write");
    add_output(access.write_data, "write_data");
    add_output(access.read, "read");
    return read_data;
  });
  add_output(target.sda_low, "sda_low");
  add_output(target.is_selected, "selected");
  return network;
}

}  // namespace portweigh::blocks

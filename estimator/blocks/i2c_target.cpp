// I2C target with register address and auto-increment, as most port controllers show themselves to a host.
//
// Write: own address, register address, data ... ; read: own address with the read bit, data ... from the
// register address that is now set; it counts up after each byte. SCL is never held low, so the clock of the
// network must be at least some 20 times SCL (filter of 6 clocks and the read of a register within a low).
//
//   bit_count 0..7: bits of a byte, 8: acknowledge on its way, 9: acknowledge given
//
// Counting is done on rising SCL, the line changes on falling SCL, states change at the end of the
// acknowledge. Bus rules: I2C-bus specification (public), standard and fast mode.
// Tested by tests/blocks/i2c_target_test.cpp against a bus model of its own.
#include "blocks/host_interface.hpp"
#include "blocks/i2c_line.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;

// One-hot states; idle is none of them.
struct TargetStates {
  Bit address, pointer, write, read;
};

TargetStates add_states(Network& network) {
  return {add_register(network, "state_address"), add_register(network, "state_pointer"),
          add_register(network, "state_write"), add_register(network, "state_read")};
}

}  // namespace

I2cTargetSignals add_i2c_target(Network& network, const I2cTargetInputs& inputs,
                                const std::function<Word(const RegisterAccess&)>& attach) {
  const Bit reset = inputs.reset;
  const I2cLine scl = add_i2c_line("scl", inputs.scl, reset);
  const I2cLine sda = add_i2c_line("sda", inputs.sda, reset);
  const Bit start = scl.level & scl.previous & sda.falls();
  const Bit stop = scl.level & scl.previous & sda.rises();

  const TargetStates state = add_states(network);
  const Word bit_count = add_registers(network, "bit_count", 4);
  const Word shift = add_registers(network, "shift", byte_bits);
  const Word pointer = add_registers(network, "pointer", byte_bits);
  const Bit sda_low = add_register(network, "sda_low_register");

  const Bit rises = scl.rises();
  const Bit falls = scl.falls();
  const Bit is_acknowledging = bit_count[3] & (~bit_count[0]);  // 8
  const Bit is_acknowledged = bit_count[3] & bit_count[0];      // 9
  const Bit byte_ends = falls & is_acknowledging;
  const Bit acknowledge_ends = falls & is_acknowledged;
  const Bit is_own = shift.slice(1, 7) == inputs.device_address;
  const Bit wants_read = shift[0];
  const Bit is_receiving = state.address | state.pointer | state.write;
  const Bit is_active = is_receiving | state.read;
  const Bit is_refused = rises & is_acknowledging & state.read & sda.level;  // controller ends the read

  // States: a start leads to the address, a stop or a foreign address to idle.
  const Bit leave = reset | stop;
  const Bit foreign = byte_ends & state.address & (~is_own);
  const Bit to_read = acknowledge_ends & state.address & wants_read;
  const Bit to_pointer = acknowledge_ends & state.address & (~wants_read);
  const Bit to_write = acknowledge_ends & state.pointer;
  connect(state.address, start | (state.address & (~foreign) & (~acknowledge_ends)), {.reset = leave});
  connect(state.pointer, to_pointer | (state.pointer & (~to_write)), {.reset = leave | start});
  connect(state.write, to_write | state.write, {.reset = leave | start});
  connect(state.read, to_read | (state.read & (~is_refused)), {.reset = leave | start});

  connect(bit_count, bit_count + 1U,
          {.enable = rises & is_active, .reset = reset | start | acknowledge_ends});

  // The strobes are registered; address and data hold long after them.
  const Bit write_strobe = registered("write_strobe", byte_ends & state.write, {.reset = reset});
  const Bit accepted_read = (state.address & wants_read) | (state.read & (~sda.level));
  const Bit read_strobe =
      registered("read_strobe", rises & is_acknowledging & accepted_read, {.reset = reset});
  const Word read_data = attach({pointer, write_strobe, shift, read_strobe});

  // Received bits enter at a rising SCL; a byte to send is loaded as its acknowledge ends.
  const Bit load = acknowledge_ends & (to_read | state.read);
  const Bit shift_in = rises & (~bit_count[3]) & is_receiving;
  const Bit shift_out = falls & state.read & (~bit_count[3]) & (bit_count != 0U);
  const Word shifted = concatenate(Word(sda.level), shift.slice(0, byte_bits - 1));
  connect(shift, select(load, read_data, shifted), {.enable = load | shift_in | shift_out});

  const Bit count_up = (byte_ends & state.write) | load;
  connect(pointer, select(state.pointer, shift, pointer + 1U),
          {.enable = registered("count_up", count_up, {.reset = reset}) | (byte_ends & state.pointer)});

  const Bit acknowledge = byte_ends & is_receiving & (~foreign);
  const Bit next_bit = select(load, ~read_data.top(), ~shift[byte_bits - 2]);
  const Bit drive = acknowledge | ((load | shift_out) & next_bit);
  connect(sda_low, drive, {.enable = falls, .reset = leave | start});
  return {sda_low, is_active};
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

// SPI target and controller, bytes with the most significant bit first.
//
// Target: SCK, chip select and MOSI pass two synchroniser registers and are sampled with the clock of the
// network, which must be at least some 6 times SCK. Modes 0 and 3 without a setting: both sample at the
// rising and change at the falling edge. Controller: half an SCK period is (divider + 1) clocks; polarity and
// phase are inputs; chip select stays low from byte to byte until one that was started with `last`.
// Modes as in common practice: mode = 2 * polarity + phase. Tested by tests/blocks/host_bus/serial_interface_test.cpp.
#include "blocks/host_bus/host_interface.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;
constexpr unsigned divider_bits = 8;

Bit synchronised(const std::string& name, Bit pin, Bit reset, std::uint64_t reset_value) {
  const logic::RegisterControl control{.reset = reset, .reset_value = reset_value};
  return registered(name + "_synchronised", registered(name + "_meta", pin, control), control);
}

}  // namespace

Network spi_target_network() {
  Network network;
  const Bit reset = add_input(network, "reset");
  const Bit sck = synchronised("sck", add_input(network, "sck"), reset, 0);
  const Bit deselected = synchronised("select_n", add_input(network, "select_n"), reset, 1);
  const Bit mosi = synchronised("mosi", add_input(network, "mosi"), reset, 0);
  const Word transmit = add_input_word(network, "transmit", byte_bits);

  const Bit sck_previous = registered("sck_previous", sck, {.reset = reset});
  const Bit was_deselected = registered("was_deselected", deselected, {.reset = reset, .reset_value = 1});
  const Bit begins = was_deselected & (~deselected);
  const Bit rises = sck & (~sck_previous) & (~was_deselected);
  const Bit falls = (~sck) & sck_previous & (~was_deselected);

  const Word bit_count = add_registers(network, "bit_count", 3);
  const Word shift = add_registers(network, "shift", byte_bits);
  const Bit byte_ends = rises & all(bit_count);
  const Bit load = begins | byte_ends;
  const Word shifted = shifted_left(shift, 1, mosi);
  connect(bit_count, bit_count + 1U, {.enable = rises, .reset = reset | deselected});
  connect(shift, select(load, transmit, shifted), {.enable = load | rises});
  const Word received = registered("received_register", shifted, {.enable = byte_ends, .reset = reset});
  const Bit miso = registered("miso_register", select(begins, transmit.top(), shift.top()),
                              {.enable = begins | falls, .reset = reset});

  add_output(miso, "miso");
  add_output(~was_deselected, "miso_enable");
  add_output(received, "received");
  add_output(registered("received_valid_register", byte_ends, {.reset = reset}), "received_valid");
  add_output(registered("transmit_taken_register", load, {.reset = reset}), "transmit_taken");
  return network;
}

Network spi_controller_network() {
  Network network;
  const Bit reset = add_input(network, "reset");
  const Bit start = add_input(network, "start");
  const Bit last = add_input(network, "last");
  const Word transmit = add_input_word(network, "transmit", byte_bits);
  const Word divider = add_input_word(network, "divider", divider_bits);
  const Bit polarity = add_input(network, "polarity");
  const Bit phase = add_input(network, "phase");
  const Bit miso = add_input(network, "miso");

  const Bit busy = add_register(network, "busy_register");
  const Word timer = add_registers(network, "timer", divider_bits);
  const Word edge = add_registers(network, "edge", 5);  // SCK edges done; 16: last half period
  const Word shift = add_registers(network, "shift", byte_bits);
  const Bit go = start & (~busy);
  const Bit tick = busy & (timer == 0U);
  const Bit is_over = edge.top();
  const Bit toggles = tick & (~is_over);
  const Bit ends = tick & is_over;

  connect(timer, select(go | tick, divider, timer - 1U), {.enable = go | busy});
  connect(edge, edge + 1U, {.enable = toggles, .reset = reset | go});
  connect(busy, go | (busy & (~ends)), {.reset = reset});
  const Bit sck = add_register(network, "sck_register");
  connect(sck, select(busy, sck ^ toggles, polarity), {.reset = reset});

  // Even edges lead, odd edges trail; the phase says which of them samples.
  const Bit samples = toggles & (~(edge[0] ^ phase));
  const Bit changes = toggles & (edge[0] ^ phase);
  connect(shift, select(go, transmit, shifted_left(shift, 1, miso)), {.enable = go | samples});
  const Bit mosi = registered("mosi_register", select(go, transmit.top(), shift.top()),
                              {.enable = go | changes, .reset = reset});
  const Bit is_last = registered("is_last", last, {.enable = go, .reset = reset});
  const Bit select_n = add_register(network, "select_n_register");
  connect(select_n, ~go, {.enable = go | (ends & is_last), .reset = reset, .reset_value = 1});

  add_output(sck, "sck");
  add_output(mosi, "mosi");
  add_output(select_n, "select_n");
  add_output(busy, "busy");
  add_output(registered("done_register", ends, {.reset = reset}), "done");
  add_output(shift, "received");
  return network;
}

}  // namespace portweigh::blocks

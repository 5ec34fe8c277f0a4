// Register bank: what a host sees of a block. Writable registers hold what the host wrote, the others show
// status inputs; reads pass through a registered multiplexer, so data follow the read strobe by one clock.
//
//   registers = writable * bits + bits (read data) + 1 (read valid)
//
// Addresses past the last register read zero and writes there, or to status, do nothing. The write data go
// straight to the registers, so a write costs only the address decoder that makes the clock enables.
// Firmware: the same access from an interrupt or a dispatcher, register file in RAM.
// Tested by tests/blocks/host_bus/register_bank_test.cpp.
#include "blocks/host_bus/register_bank.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <bit>
#include <random>

#include "blocks/random_traffic.hpp"
#include "blocks/sized_variables.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

Network register_bank_network(const Settings& settings) {
  const RegisterBankShape shape = register_bank_shape(settings);
  Network network;
  RegisterBankInputs inputs{.reset = add_input(network, "reset"),
                            .address = add_input_word(network, "address", shape.address_bits()),
                            .write = add_input(network, "write"),
                            .write_data = add_input_word(network, "write_data", shape.bits),
                            .read = add_input(network, "read"),
                            .status = {}};
  for (unsigned i = shape.writable; i < shape.registers; ++i) {
    inputs.status.push_back(add_input_word(network, fmt::format("status_{}", i), shape.bits));
  }
  const RegisterBankSignals bank = add_register_bank(network, shape, inputs);
  for (unsigned i = 0; i < shape.writable; ++i) {
    add_output(bank.registers[i], fmt::format("register_{}", i));
  }
  add_output(bank.read_data, "read_data");
  add_output(bank.read_valid, "read_valid");
  return network;
}

std::uint64_t mask_of_width(unsigned bits) {
  return bits >= 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << bits) - 1;
}

// An access now and then; status changes slowly, as status does.
Drive register_bank_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const RegisterBankShape shape = register_bank_shape(settings);
  return [shape, state, random = std::mt19937_64(seed)](logic::Simulator& simulator,
                                                        std::uint64_t clock) mutable {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (clock == 0 || clock % traffic_spacing == 1) {
      simulator.set("write", 0);
      simulator.set("read", 0);
    }
    if (state == TrafficState::idle || clock == 0 || clock % traffic_spacing != 0) return;
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      const std::uint64_t draw = random();
      const bool is_write = (draw & 3U) == 0;  // hosts mostly poll
      simulator.set("write", stream, is_write ? 1 : 0);
      simulator.set("read", stream, is_write ? 0 : 1);
      simulator.set("address", stream, (draw >> 8U) & mask_of_width(shape.address_bits()));
      simulator.set("write_data", stream, (draw >> 24U) & mask_of_width(shape.bits));
    }
    if (clock % 64 == 0) {
      for (unsigned i = shape.writable; i < shape.registers; ++i) {
        simulator.set(fmt::format("status_{}", i), random() & mask_of_width(shape.bits));
      }
    }
  };
}

firmware::Counts counts_of_step(const firmware::Routine& routine, std::uint32_t command,
                                std::uint32_t address) {
  firmware::Machine machine(routine);
  machine.run({command, address, 0x55});
  return machine.counts();
}

FirmwareRun register_bank_run(const Settings& settings, std::string_view) {
  const RegisterBankShape shape = register_bank_shape(settings);
  FirmwareRun run{.routine = register_bank_routine(shape), .counts = {}, .events = 2000};
  firmware::Machine machine(run.routine);
  std::mt19937_64 random(1);
  for (std::uint64_t i = 0; i < run.events; ++i) {
    const auto draw = random();
    const auto is_write = static_cast<std::uint32_t>((draw & 3U) == 0);
    machine.run({is_write, static_cast<std::uint32_t>((draw >> 8U) % shape.registers),
                 static_cast<std::uint32_t>((draw >> 24U) & mask_of_width(shape.bits))});
  }
  run.counts = machine.counts();
  run.paths = {counts_of_step(run.routine, shape.writable > 0 ? 1 : 0, 0)};
  return run;
}

}  // namespace

unsigned RegisterBankShape::address_bits() const {
  return std::max(1U, static_cast<unsigned>(std::bit_width(registers - 1U)));
}

RegisterBankShape register_bank_shape(const Settings& settings) {
  RegisterBankShape shape{.registers = static_cast<unsigned>(settings.integer("registers")),
                          .bits = static_cast<unsigned>(settings.integer("bits")),
                          .writable = static_cast<unsigned>(settings.integer("writable"))};
  if (shape.writable > shape.registers) {
    if (settings.was_set("writable")) {
      throw SettingError(fmt::format("setting \"writable\": {} is more than the {} registers", shape.writable,
                                     shape.registers));
    }
    shape.writable = shape.registers;
  }
  return shape;
}

RegisterBankSignals add_register_bank(Network& network, const RegisterBankShape& shape,
                                      const RegisterBankInputs& inputs) {
  std::vector<Word> registers;
  std::vector<Word> readable;
  for (unsigned i = 0; i < shape.writable; ++i) {
    const Bit chosen = inputs.write & (inputs.address == i);
    registers.push_back(registered(fmt::format("register_{}", i), inputs.write_data,
                                   {.enable = chosen, .reset = inputs.reset}));
    readable.push_back(registers.back());
  }
  readable.insert(readable.end(), inputs.status.begin(), inputs.status.end());
  readable.resize(std::size_t{1} << inputs.address.size(), constant_word(network, 0, shape.bits));
  const Word read_data = registered("read_data", select_indexed(inputs.address, readable),
                                    {.enable = inputs.read, .reset = inputs.reset});
  const Bit read_valid = registered("read_valid", inputs.read, {.reset = inputs.reset});
  return {registers, read_data, read_valid};
}

firmware::Routine register_bank_routine(const RegisterBankShape& shape) {
  firmware::Routine r("register_access");
  const auto is_write = r.parameter_u8("is_write");
  const auto address = r.parameter_u8("address");
  const auto data = sized_parameter(r, "data", shape.bits);
  const auto file = sized_array(r, "file", shape.bits, shape.registers);
  const auto is_changed = r.state_u8("is_changed");
  if (shape.registers < 256) {
    r.if_(address >= shape.registers, [&] { r.return_(0); });
  }
  r.if_(is_write, [&] {
    const auto store = [&] {
      r.set(file[address], data);
      r.set(is_changed, 1);
    };
    if (shape.writable >= 256) {
      store();
    } else if (shape.writable > 0) {
      r.if_(address < shape.writable, store);
    }
    r.return_(0);
  });
  r.return_(file[address]);
  return r;
}

Kind register_bank_kind() {
  Kind kind;
  kind.name = "register-bank";
  kind.summary = "registers behind an address: writable ones, read-only status, registered read multiplexer";
  kind.spread_class = "registers";
  kind.settings = {
      {"registers", "registers in all", IntegerDomain{1, 16, 256}},
      {"bits", "bits of a register", IntegerDomain{1, 8, 32}},
      {"writable", "registers the host can write; the others are read-only status", IntegerDomain{0, 8, 256}},
  };
  kind.network = register_bank_network;
  kind.traffic = register_bank_traffic;
  kind.methods = {{"register-file", {}}};
  kind.run = register_bank_run;
  kind.event = always(Event::step);
  kind.pace = [](const Settings&) { return Pace{Event::step, traffic_spacing}; };
  return kind;
}

}  // namespace portweigh::blocks

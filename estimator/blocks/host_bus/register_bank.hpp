// Register bank: registers that a host writes and reads over an address, with read-only status words.
//
// Tested by tests/blocks/host_bus/register_bank_test.cpp.
#pragma once

#include <cstdint>
#include <vector>

#include "blocks/kind.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {

Kind register_bank_kind();

struct RegisterBankShape {
  unsigned registers = 16;
  unsigned bits = 8;
  unsigned writable = 8;  // registers 0..writable-1; the others show status inputs

  unsigned address_bits() const;
};

// Throws SettingError where more registers are writable than there are. A `writable` left at its default
// is cut to the number of registers.
RegisterBankShape register_bank_shape(const Settings& settings);

struct RegisterBankInputs {
  logic::Bit reset;
  logic::Word address;     // address_bits wide
  logic::Bit write;        // strobe, one clock
  logic::Word write_data;  // bits wide
  logic::Bit read;         // strobe, one clock; the data are there in the next clock
  std::vector<logic::Word> status;
};

struct RegisterBankSignals {
  std::vector<logic::Word> registers;  // the writable ones
  logic::Word read_data;               // holds until the next read
  logic::Bit read_valid;
};

// Adds a bank to a network, so that other blocks (a host interface) can be joined to it.
RegisterBankSignals add_register_bank(logic::Network& network, const RegisterBankShape& shape,
                                      const RegisterBankInputs& inputs);

// One access of the host as firmware does it: event "step".
firmware::Routine register_bank_routine(const RegisterBankShape& shape);

}  // namespace portweigh::blocks

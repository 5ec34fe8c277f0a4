// The receiving side of an I2C line, shared by target and controller.
//
// Tested by tests/blocks/host_bus/i2c_target_test.cpp (short pulses are passed over).
#pragma once

#include <string>

#include "logic/network/word.hpp"

namespace portweigh::blocks {

struct I2cLine {
  logic::Bit level;     // filtered
  logic::Bit previous;  // one clock earlier
  logic::Bit rises() const { return level & (~previous); }
  logic::Bit falls() const { return (~level) & previous; }
};

// Two synchroniser registers, then three samples that must agree before the level changes (a 50 ns spike
// filter at usual clocks). All start high, as an idle line is.
inline I2cLine add_i2c_line(const std::string& name, logic::Bit pin, logic::Bit reset) {
  using logic::RegisterControl;
  const RegisterControl control{.reset = reset, .reset_value = 1};
  const logic::Bit meta = registered(name + "_meta", pin, control);
  const logic::Bit sample0 = registered(name + "_sample0", meta, control);
  const logic::Bit sample1 = registered(name + "_sample1", sample0, control);
  const logic::Bit sample2 = registered(name + "_sample2", sample1, control);
  const logic::Bit level = add_register(pin.network(), name + "_level");
  const logic::Bit all_high = sample0 & sample1 & sample2;
  const logic::Bit any_high = sample0 | sample1 | sample2;
  connect(level, all_high | (level & any_high), control);
  return {level, registered(name + "_previous", level, control)};
}

}  // namespace portweigh::blocks

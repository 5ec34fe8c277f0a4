// A small programmable-logic device: what its fabric holds, how fast it is, and what it draws.
//
//   power = V_core (I_leak 2^((T - 25 degC)/T_double)) + f (E_trunk + registers E_clock)
//           + toggles/s E_toggle + RAM accesses/s E_ram + pins + oscillator + bias
// Sources of the form: P = alpha C V^2 f + I V per node (Weste & Harris, CMOS VLSI Design), gathered per
// cell. Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <optional>
#include <vector>

#include "parts/part.hpp"

namespace portweigh::parts {

enum class Configuration { non_volatile, external_flash };
enum class CoreSupply { internal_linear, external_rail };  // where the core voltage comes from

struct ProgrammableLogic {
  Part part;

  unsigned cells = 0;       // a LUT and a register each
  unsigned lut_inputs = 4;  // 3..8
  bool has_carry_chain = true;
  bool has_register_control = true;  // registers with clock enable and synchronous reset
  unsigned ram_blocks = 0;
  unsigned ram_block_bits = 0;
  unsigned smallest_ram_bits = 0;  // memories below this become registers
  SourcedRange fill_limit;         // share of cells that can be used before routing fails, 0..1

  SourcedRange clock_to_output;  // s
  SourcedRange lut_delay;        // s
  SourcedRange routing_delay;    // s for each LUT level at moderate fill
  SourcedRange setup;            // s
  SourcedRange carry_delay;      // s for each bit

  SourcedRange core_voltage;  // V
  CoreSupply core_supply = CoreSupply::internal_linear;
  SourcedRange leakage_current;        // A at 25 degC junction, core
  SourcedRange leakage_doubling;       // K of junction temperature that double it
  SourcedRange toggle_energy;          // J for each toggle of a cell output with its routing, at core voltage
  SourcedRange clock_trunk_energy;     // J each clock cycle for the tree as a whole
  SourcedRange clock_register_energy;  // J each clock cycle for each clocked register
  SourcedRange ram_access_energy;      // J
  SourcedRange bias_current;           // A from the supply: references, input/output banks, monitors
  SourcedRange pin_capacitance;        // F on each output pin, with a short trace
  std::optional<SourcedRange> oscillator_frequency;  // Hz, built in
  SourcedRange oscillator_current;                   // A
  // By which the oscillator can be divided for a soft processor's clock, rising.
  std::vector<double> oscillator_dividers = {1, 2, 4, 8, 16, 32, 64, 128};
  std::optional<SourcedRange> standby_current;  // A, clocks stopped, state kept; absent: leakage and bias
  std::optional<SourcedRange> wake_up;          // s from stopped clocks to working; absent: not told

  Configuration configuration = Configuration::non_volatile;
  double configuration_bytes = 0;     // of an image: what a memory outside has to hold; 0: not told
  SourcedRange configuration_time;    // s from power-up to working
  SourcedRange configuration_energy;  // J
  unsigned comparators = 0;           // built in
  SourcedRange comparator_current;    // A each
  std::optional<SourcedRange> comparator_standby_current;  // A each, slow; absent: as while on
};

}  // namespace portweigh::parts

// A microcontroller: core class, memories, clocks, peripherals, and what it draws in each mode.
//
// The currents are those of full speed; operating points have their own (options/power/operating_point.hpp).
//   run power   = V (I_run f + I_run_base);   waiting for an event: V (I_sleep f + I_sleep_base);
//   stopped     = V I_stop 2^((T - 25 degC)/T_double), left by an edge after `wake_up`
// Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "parts/part.hpp"

namespace portweigh::parts {

// A lower core voltage than at full speed, up to a clock, with what the core draws at it. Without an
// efficiency the core's current comes through a linear regulator.
struct OperatingPoint {
  SourcedRange voltage;                              // V, of the core
  SourcedQuantity highest_clock;                     // Hz
  SourcedRange run_current_per_clock;                // A/Hz
  SourcedRange sleep_current_per_clock;              // A/Hz
  std::optional<SourcedRange> regulator_efficiency;  // of a switching regulator, 0..1
  std::optional<SourcedRange> regulator_current;     // A from the supply while the clock runs
};

struct Microcontroller {
  Part part;

  std::string core;  // a core class of catalog/cores
  double flash_bytes = 0;
  double erase_page_bytes = 1;  // of the flash: what is erased at once
  double ram_bytes = 0;
  std::vector<SourcedQuantity> clocks;  // Hz, the settings of its oscillator and dividers, rising
  double clocks_per_cycle = 1;          // oscillator clocks for each cycle of the core class

  SourcedRange run_current_per_clock;    // A/Hz = C for each clock, code from flash
  SourcedRange run_base_current;         // A
  SourcedRange sleep_current_per_clock;  // A/Hz, core stopped, peripherals clocked
  SourcedRange sleep_base_current;       // A
  SourcedRange stop_current;             // A at 25 degC, clocks stopped, memory kept
  SourcedRange stop_doubling;            // K that double the stop current
  SourcedRange wake_up;                  // s from stop to the first instruction

  // Peripheral name -> how many: "capture", "dma", "crc-unit", "bit-serial-port", "compare-output",
  // "comparator", "reference", "i2c-target", "i2c-controller", "spi-target", "spi-controller", "uart",
  // "edge-interrupt".
  std::map<std::string, unsigned> peripherals;
  std::vector<OperatingPoint> operating_points;            // beside full speed, voltages and clocks rising
  SourcedRange comparator_current;                         // A each, while on
  std::optional<SourcedRange> comparator_standby_current;  // A each, slow; absent: as while on
};

}  // namespace portweigh::parts

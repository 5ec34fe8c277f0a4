// Small parts that an option may need beside its main part: comparators, switches, a crystal, a regulator.
//
// Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <optional>

#include "parts/part.hpp"

namespace portweigh::parts {

enum class ExternalRole {
  comparator,
  analogue_switch,
  reference,
  crystal,
  regulator,
  configuration_flash,
  level_shifter,
  resistor
};

struct ExternalPart {
  std::string id;
  std::string summary;
  bool is_invented = false;  // values and prices are made up
  ExternalRole role = ExternalRole::comparator;
  unsigned channels = 1;                       // functions in one body
  std::optional<SourcedRange> supply_voltage;  // V, what it works on; absent: any
  std::optional<SourcedRange> output_voltage;  // V a regulator makes, or can be set to
  double capacity_bytes = 0;                   // of a configuration memory
  double erase_page_bytes = 1;                 // of it: what is erased at once
  SourcedRange active_current;                 // A for the body
  SourcedRange standby_current;                // A, with nothing attached
  SourcedQuantity board_area;                  // m2 with its keep-out
  Prices prices;
  figures::Source source;
};

}  // namespace portweigh::parts

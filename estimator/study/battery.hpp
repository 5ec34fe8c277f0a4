// The product's battery, where it has one: what it holds, what it loses by itself, and what else drains it.
//
// Either its energy, or its capacity (charge) with its voltage: 225 mAh at 3.0 V hold 2430 J. Self-discharge
// is the share of the full charge that it loses in a year on the shelf; about 0.01 for a lithium coin cell.
// Tested by tests/study/battery_reader_test.cpp.
#pragma once

#include <optional>

#include "reading/quantity_rule.hpp"

namespace portweigh::study {

struct Battery {
  std::optional<reading::SourcedRange> energy;       // J when full; there is either this or the next two
  std::optional<reading::SourcedRange> capacity;     // C when full
  std::optional<reading::SourcedRange> voltage;      // V, mean while it is emptied
  reading::SourcedRange self_discharge;              // share of the full charge lost a year, 0..1
  std::optional<reading::SourcedRange> efficiency;   // of the conversion to the port's rail, 0..1; absent: 1
  std::optional<reading::SourcedRange> other_power;  // W, mean, of the rest of the product; absent: none
};

}  // namespace portweigh::study

// UDUNITS-2 as a reference for units: what its database knows, as a scale and exponents. Units with a
// logarithm (dB), an epoch, an angle (rpm), candela or mole have none.
#pragma once

#include <optional>
#include <string>

#include "figures/units/dimension.hpp"

namespace portweigh::figures::test {

struct ScaledDimension {
  Dimension dimension;
  double factor = 1.0;
  double offset = 0.0;  // value_si = value * factor + offset
};

// None if the library doesn't know the unit, can't express it so, or has no database.
[[nodiscard]] std::optional<ScaledDimension> look_up_in_udunits(const std::string& text);

}  // namespace portweigh::figures::test

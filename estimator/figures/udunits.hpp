// The one shared, read-only UDUNITS-2 system: any unit its database knows, as a scale and exponents.
//
// Why apart from unit.cpp: this is the only file that knows the C library. Calls are serialised, since the
// library's parser keeps global state. Units with a logarithm (dB), an epoch, an angle (rpm), candela or mole
// are refused. The first call reads an XML database (measured: 3 ms from a warm disk cache).
#pragma once

#include <optional>
#include <string>

#include "figures/dimension.hpp"

namespace portweigh::figures {

struct ScaledDimension {
  Dimension dimension;
  double factor = 1.0;
  double offset = 0.0;  // value_si = value * factor + offset
};

// None if the library doesn't know the unit, can't express it so, or has no database.
[[nodiscard]] std::optional<ScaledDimension> look_up_in_udunits(const std::string& text);

}  // namespace portweigh::figures

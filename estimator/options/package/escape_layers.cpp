#include "options/package/escape_layers.hpp"

#include <algorithm>
#include <cmath>

namespace portweigh::options {
namespace {

// A trace and its two gaps of 0.1 mm each pass between pads of half the pitch from here on.
constexpr double pitch_for_a_trace_m = 0.65e-3;

unsigned leads_on_a_side(const parts::Package& package) {
  if (package.rows > 0) return package.rows;
  return static_cast<unsigned>(std::ceil(std::sqrt(std::max(1.0, 1.0 * package.usable_pins))));
}

unsigned leads_of_ring(unsigned side, unsigned ring) {
  const unsigned here = side - 2 * ring;
  return here == 1 ? 1 : 4 * (here - 1);
}

// Rings from the edge on that hold so many usable pins.
unsigned rings_for(const parts::Package& package, unsigned pins) {
  const unsigned side = leads_on_a_side(package);
  const double usable_share = package.usable_pins / (1.0 * side * side);
  const unsigned all_rings = (side + 1) / 2;
  double held = 0;
  for (unsigned ring = 0; ring < all_rings; ++ring) {
    held += usable_share * leads_of_ring(side, ring);
    if (held >= pins) return ring + 1;
  }
  return all_rings;
}

}  // namespace

unsigned escape_layers(const parts::Package& package, unsigned pins) {
  if (package.layers > 0) return package.layers;
  if (package.leads == parts::Leads::peripheral) return 1;
  constexpr double rounding = 1e-9;
  const unsigned in_a_layer = package.pitch.value_si >= pitch_for_a_trace_m * (1 - rounding) ? 2 : 1;
  return 2 * ((rings_for(package, pins) + in_a_layer - 1) / in_a_layer);
}

}  // namespace portweigh::options

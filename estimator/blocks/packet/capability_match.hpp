// Capability matching: offered power objects against a wish list, best match and its index.
//
// Tested by tests/blocks/packet/capability_match_test.cpp.
#pragma once

#include <cstdint>

#include "blocks/kind.hpp"

namespace portweigh::blocks {

Kind capability_match_kind();

// What the product wants; all 10 bits wide, in the units of the objects.
struct PowerWish {
  std::uint32_t minimum_voltage = 0;  // 50 mV
  std::uint32_t maximum_voltage = 0;  // 50 mV
  std::uint32_t wanted_current = 0;   // 10 mA
  std::uint32_t wanted_power = 0;     // 250 mW, for battery objects
};

// Power of one count of the objects' products: 50 mV * 10 mA = 0.5 mW; a battery's 250 mW are 500 of them.
inline constexpr std::uint32_t battery_power_scale = 500;

// Clocks from an accepted object to the next: load, ten steps of the multiplier, comparison.
inline constexpr unsigned capability_match_clocks = 12;

// Event "message": structures "message" (objects), "wish" and "best"; the parameter is the object count.
firmware::Routine capability_match_routine(unsigned objects);

// A plausible object for traffic: mostly fixed supplies, some variable and battery, seldom a reserved type.
std::uint32_t plausible_power_object(std::uint64_t draw);

}  // namespace portweigh::blocks

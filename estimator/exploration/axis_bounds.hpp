// The values that an input can physically take, so that an axis does not run where no product can be.
//
// An input known by the end of its key has the bounds of the study's reader (duty_cycle, chance and shares
// 0..1, years 0.1..50, volume_per_year from 1, ambient 200..450 K, ...); clocks are at least 1 Hz, voltages
// above 0, temperatures -100..300 degC; everything else is not negative and within the sane magnitudes of its
// dimension (reading/quantity_rule.hpp). Example: "revision.policy-change.chance" is a chance, so 0..1.
// Tested by tests/exploration/axis_bounds_test.cpp.
#pragma once

#include <string_view>

#include "figures/units/unit.hpp"
#include "reading/quantity_rule.hpp"

namespace portweigh::exploration {

// Both bounds are allowed, SI.
reading::Bounds bounds_of_input(std::string_view key, const figures::Dimension& dimension);

}  // namespace portweigh::exploration

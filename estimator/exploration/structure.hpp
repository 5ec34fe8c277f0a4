// Inputs that change what is built: covering, schedules or packages have to be run again when they move.
//
// Everything else only moves numbers in ledgers that stay as they are.
// Tested by tests/exploration/structure_test.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "exploration/axis.hpp"
#include "study/study.hpp"

namespace portweigh::exploration {

// "function.oversampling", "function.bit_rate", "function.message_bits", "function.turn_round",
// "study.capacity_reserve", "study.extra_pins".
const std::vector<KnownInput>& structural_inputs();

bool is_structural(std::string_view input);

// The study with the input set, SI. Throws AxisError where the value makes no sense (oversampling of 2.5).
study::Study with_structure(const study::Study& study, std::string_view input, double value);

}  // namespace portweigh::exploration

// By how much an input moves until another option leads: "+18 %" of its typical value.
//
// The zero of a temperature says nothing, so that its change is told in kelvin: from 30 to 41 degC is
// "+11 K", not "+4 %" of 303 K. Tested by tests/report/terminal/flip_text_test.cpp.
#pragma once

#include <string>

#include "exploration/crossover.hpp"

namespace portweigh::report {

std::string change_text(const exploration::Flip& flip);

}  // namespace portweigh::report

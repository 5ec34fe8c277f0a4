// Fields of a battery, and what must hold beyond their bounds: energy, or capacity and voltage.
//
// Tested by tests/study/battery_reader_test.cpp.
#pragma once

#include "reading/field.hpp"
#include "study/study.hpp"

namespace portweigh::study {

const reading::Fields<Battery>& battery_fields();

// Mistakes of the [battery] table, and budgets that ask for a figure of a battery wrongly or without one.
void check_battery(reading::TableReader& root, const Study& study);

}  // namespace portweigh::study

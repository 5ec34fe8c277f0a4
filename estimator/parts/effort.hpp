// How much engineering a block takes on each kind of engine: rates that turn counts into person-hours.
//
//   firmware  basic COCOMO:  person-months = a KDSI^b,  KDSI = code bytes / bytes_per_line / 1000
//   logic     hours = LUTs x hours_per_lut  (design and verification of new register-transfer code)
//   fixed     hours of configuration and bring-up
// Source: B. W. Boehm, Software Engineering Economics, 1981 (organic: a 2.4, b 1.05; 152 hours a
// person-month); the other rates are common practice, with wide ranges. Read from effort.toml of the catalog.
// Tested by tests/parts/effort_test.cpp.
#pragma once

#include <filesystem>

#include "reading/quantity_rule.hpp"

namespace portweigh::parts {

struct Effort {
  reading::SourcedRange cocomo_a;             // person-months for 1 KDSI
  reading::SourcedRange cocomo_b;             // exponent
  reading::SourcedRange person_month;         // s of work
  reading::SourcedRange bytes_per_line;       // code bytes of a source line
  reading::SourcedRange logic_time_per_lut;   // s
  reading::SourcedRange fixed_function_time;  // s to configure and bring up a fixed-function part
  reading::SourcedRange integration_time;     // s for board bring-up and test of any option with silicon
  reading::SourcedRange second_engine_time;   // s more for each further engine that must work with the first
  reading::SourcedRange rework_share;         // share of a block's effort that a revision touching it costs
};

// Throws reading::InputError.
Effort read_effort(const std::filesystem::path& file);

}  // namespace portweigh::parts

// How much engineering a block takes on each kind of engine: rates that turn counts into person-hours.
//
//   firmware  COCOMO (cocomo.hpp): KDSI = code bytes / bytes_per_line / 1000, times the model's own accuracy
//   logic     design = LUTs x logic_design_time_per_lut; all = design / (1 - verification_share)
//   fixed     hours of configuration and bring-up
// The rule for logic is common practice: register-transfer design time follows the size of new logic, and
// verification takes rather more than half of the whole. Worked example: 100 LUTs at 0.3 h with a
// verification share of 0.55: 30 h of design, 66.7 h in all. Read from effort.toml of the catalog. Tested by
// tests/parts/effort_test.cpp.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "parts/cocomo.hpp"
#include "reading/quantity_rule.hpp"

namespace portweigh::reading {
struct FieldInfo;
}

namespace portweigh::parts {

struct Effort {
  CocomoModel model = CocomoModel::intermediate;
  CocomoMode mode = CocomoMode::embedded;
  // By name of cocomo_drivers(); drivers that aren't listed are nominal, 1. Empty for the basic model.
  std::map<std::string, reading::SourcedRange> cost_drivers;
  reading::SourcedRange firmware_accuracy;          // actual effort by the model's
  reading::SourcedRange person_month;               // s of work
  reading::SourcedRange bytes_per_line;             // code bytes of a source line
  reading::SourcedRange logic_design_time_per_lut;  // s of design, without verification
  reading::SourcedRange verification_share;         // of all effort for logic, 0..1
  reading::SourcedRange fixed_function_time;        // s to configure and bring up a fixed-function part
  reading::SourcedRange driver_time;  // s: start-up, clocks and drivers of a processor's peripherals
  reading::SourcedRange
      power_management_time;                // s: its sleep modes, wake-ups and their currents on the board
  reading::SourcedRange boot_loader_bytes;  // code that takes a new image in the field
  reading::SourcedRange update_path_time;  // s: how a new image gets into a product in use, with its fallback
  reading::SourcedRange production_test_time;  // s: test program and fixture for units made
  reading::SourcedRange integration_time;      // s for board bring-up and test of any option with silicon
  reading::SourcedRange second_engine_time;    // s more for each further engine that must work with the first
  reading::SourcedRange qualification_time;    // s to approve a main part that the company doesn't use yet
  reading::SourcedRange reuse_share;        // share of a block's effort left where the company has it already
  reading::SourcedRange rework_share;       // share of a block's effort that a revision touching it costs
  reading::SourcedRange team_size;          // engineers who can work on it at once
  reading::SourcedRange field_update_time;  // s: from tested change to units in use that have it
  reading::SourcedRange factory_update_time;  // s: the same where units come back
  reading::SourcedRange board_turn_time;      // s: layout, boards and approval of a new board or part
};

// The keys of effort.toml, for its schema.
std::vector<reading::FieldInfo> effort_infos();

// Throws reading::InputError.
Effort read_effort(const std::filesystem::path& file);

}  // namespace portweigh::parts

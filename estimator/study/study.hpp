// A study: one product that needs the port, its use, its budgets, and what money and change mean to it.
//
// Read from studies/*.toml. Names of figures in budgets are those of `list figures`.
// Tested by tests/study/study_reader_test.cpp.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "study/assignment.hpp"
#include "study/battery.hpp"
#include "study/function.hpp"

namespace portweigh::study {

// A state the port is in for a share of its life. The typical shares of a study add up to one.
struct PortState {
  std::string name;    // "detached", "idle", "negotiating", "active"
  SourcedRange share;  // of time, 0..1
  bool is_attached = true;
  bool is_active = false;      // the state that `duty_cycle` scales; exactly one
  SourcedRange line_activity;  // share of the state's time in which the line carries bits, 0..1
  SourcedRange wake_ups;  // Hz: times a second that a sleeping processor is woken for anything but messages
};

enum class Strength { hard, wish };

struct Budget {
  std::string figure;   // "active_power"
  double limit_si = 0;  // at most; SI, money in the study's currency
  figures::Unit unit;
  double margin = 0;  // wanted distance below the limit, as a share of it
  Strength strength = Strength::hard;
  double weight = 1;  // in the weighted margin
  std::optional<double>
      swing;  // points for the step from the worst to the best option's value; sets the weight
  figures::Source source;
};

struct Assembly {
  SourcedQuantity smallest_pitch;                // m
  SourcedQuantity largest_body;                  // m, longer side
  SourcedQuantity largest_height;                // m
  bool allows_array = true;                      // balls or lands under the body
  unsigned layers = 0;                           // of the product's board; 0: not told
  std::optional<SourcedRange> thermal_coupling;  // K of one chip for each W of another; absent: none
};

// The product's own processor, if it may carry blocks; only the added load is counted.
struct Host {
  std::string core;               // core class
  SourcedQuantity clock;          // Hz
  SourcedRange energy_per_cycle;  // J for each added cycle, memory included
  SourcedRange wake_up_energy;    // J to bring it out of its own sleep for one event
  SourcedRange free_load;         // share of its time left for the port, 0..1
  SourcedRange latency;           // s from interrupt request to its handler, with its other work
  std::string interface = "i2c";  // bus to the port's silicon
};

// A change of the standard that may come: with a chance in each year, or on a date of a published roadmap.
struct Revision {
  std::string name;
  std::optional<SourcedRange> chance_per_year;  // 0..1; there is either this or a date
  std::string date;                             // ISO 8601 day; empty: no date
  double years_after_start = 0;                 // of production, where it has a date
  SourcedRange chance;                          // 0..1: that the dated revision comes; 1 where not told
  std::vector<std::string> touches;             // revision groups of blocks
  bool needs_certification = true;              // of what follows it
  figures::Source source;
};

struct Money {
  SourcedRange labour_rate;         // money/s
  SourcedRange board_area_cost;     // money/m2
  SourcedRange placement_cost;      // money for each body placed
  SourcedRange test_cost;           // money for each unit
  SourcedRange programming_rate;    // money/s of programming fixture
  SourcedRange attrition;           // share of parts lost in production, 0..1
  SourcedRange certification_cost;  // money, once for each option that is not certified already
  // The same by what carries the protocol; absent: certification_cost.
  std::optional<SourcedRange> certification_of_controller;  // ready controllers alone
  std::optional<SourcedRange> certification_of_firmware;    // own firmware among it
  std::optional<SourcedRange> certification_of_logic;       // own logic among it
  SourcedRange tools_cost;                                  // money, once
  SourcedRange board_turn_cost;                             // money for new silicon or a new board
  SourcedRange field_update_cost;                           // money once for each field update campaign
  SourcedRange factory_update_cost;                         // money for each unit returned or reworked
  SourcedRange recall_share;               // share of units that come back when only the factory can update
  SourcedRange discount_rate;              // a year
  std::optional<SourcedRange> test_yield;  // share of units that pass their test, 0..1; absent: all
  std::optional<SourcedRange> prototype_cost;  // money, once: boards and samples until the design stands
};

enum class LearningCurve { wright, crawford };

// How volume and prices move over the years of production. Everything is optional.
struct Life {
  // Share of volume_per_year made in the first, second, ... year; the last holds on. Empty: 1.
  std::vector<SourcedQuantity> volume_ramp;
  std::optional<SourcedRange> price_erosion;  // share by which part prices fall a year
  // Cost of our own production after twice the units, as a share; 0.95 means 5 % less with each doubling.
  std::optional<SourcedRange> learning_rate;
  LearningCurve learning_curve = LearningCurve::wright;
  std::optional<SourcedRange> learning_reference;  // units made when the study's production costs hold
  std::optional<SourcedRange> carrying_cost;       // share of a stock's value a year; absent: discount_rate
};

// What the company has already.
struct Reuse {
  std::vector<std::string> logic_blocks;     // names of the function's blocks
  std::vector<std::string> firmware_blocks;  // the same, as firmware
  std::vector<std::string> parts;            // ids: approved, and their family's tools bought
};

// A part that the study does not look at, and why; every result that ranks tells it.
struct ExcludedPart {
  std::string part;  // id
  std::string reason;
};

struct Study {
  std::string name;
  std::string summary;
  std::string currency;
  PortFunction function;
  SourcedRange supply_voltage;  // V of the rail the port's silicon runs from
  SourcedRange ambient;         // K
  std::optional<Battery> battery;
  std::optional<Host> host;
  std::vector<PortState> states;
  SourcedRange volume_per_year;
  // How often a part is ordered; a price list's step is that of one order.
  SourcedRange orders_per_year = {
      figures::exactly(4), figures::parse_unit("1"), {"common practice: once a quarter", "", 0, 0}};
  SourcedRange years;  // of production, years as plain numbers
  Assembly assembly;
  std::vector<Budget> budgets;
  std::vector<Revision> revisions;
  std::string production_start;  // ISO 8601 day; empty: not told
  Money money;
  Life life;
  Reuse reuse;
  SourcedRange capacity_reserve;        // share of cells, flash and RAM to keep free, 0..1
  unsigned extra_pins = 0;              // wanted for the product's own use
  bool has_second_image = false;        // a field update keeps the image before it until the new one works
  std::vector<std::string> only_parts;  // empty: all of the catalog
  std::vector<ExcludedPart> excluded_parts;
  Assignment assignment;
  WhileLineBusy while_line_busy = WhileLineBusy::awake;
  std::filesystem::path file;
  figures::Source source;
};

// Whether the study looks at the part: it is in only_parts, where there are any, and not excluded.
bool is_considered(const Study& study, const std::string& part);

// Names all values that figures take, as read_study does: after values were put into a study by hand.
void name_inputs(Study& study);

// `catalog_folder` is where a function named without a path is looked up. Throws reading::InputError.
Study read_study(const std::filesystem::path& file, const std::filesystem::path& catalog_folder);

}  // namespace portweigh::study

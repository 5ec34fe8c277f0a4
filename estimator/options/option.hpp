// An option: a candidate that was realised, with all its figures in one ledger; or the reason why it can't
// be.
//
// Named figures every option has (SI units): logic_cells, clock_rate, required_clock, active_power,
// average_power, standby_power, unit_cost, one_time_cost, cost_per_unit_over_life, junction_temperature,
// board_area, and those listed by study/figure_names.hpp. Tested by tests/options/search/consider_test.cpp.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "figures/ledger/ledger.hpp"
#include "options/candidate.hpp"

namespace portweigh::options {

// A limit that holds whatever the budgets say: cells that can be routed, deadlines, junction temperature.
struct ImpliedLimit {
  std::string figure;  // key of a figure that must not exceed the limit
  double limit_si = 0;
  std::string meaning;
};

// A body on the board.
struct BillLine {
  std::string id;
  std::string what;
  unsigned count = 1;
};

// A share of the one-time cost. Products of a family that take the same item pay for it once.
struct OneTimeItem {
  std::string what;        // "crc-receive", "certification"
  std::string shared_key;  // "logic/crc-receive"; empty: each product pays its own
  std::uint32_t node = 0;  // of its cost in the ledger
};

struct Option {
  std::string id;
  OptionKind kind = OptionKind::split;
  std::vector<std::string> parts;                               // main parts
  std::vector<std::pair<std::string, std::string>> assignment;  // block -> engine
  std::vector<BillLine> bill;
  std::vector<OneTimeItem> one_time_items;  // add up to one_time_cost
  std::vector<ImpliedLimit> implied_limits;
  // Of its own processor: this one in words ("8 MHz and 1.00 V"), and the others worth a comparison.
  std::string setting;
  std::vector<ClockSetting> other_settings;
  std::vector<std::string> notes;     // what a reviewer asks first: what sets the clock, which package
  std::vector<std::string> warnings;  // where a figure is less sure than it looks
  figures::Ledger ledger;
};

struct Rejection {
  std::string id;
  OptionKind kind = OptionKind::split;
  std::vector<std::string> parts;
  std::string reason;  // as of Shortfall
  double needed = 0;
  double available = 0;
  std::string unit = "1";
};

using Realised = std::variant<Option, Rejection>;

// Every figure of a candidate, in one ledger, or the reason why it can't be. Order: placing (features, firmware
// deadlines, memory) -> package and pins -> cells and clock -> external parts -> power by contributor -> power
// by state, averages, heat -> battery -> effort -> money.
Realised realise(const Context& context, const Candidate& candidate);

}  // namespace portweigh::options

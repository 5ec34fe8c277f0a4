// A family of products, and the break-even of a study's options: text for people and JSON.
//
// Tested by tests/project/command_line_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "options/family/family.hpp"
#include "options/money/break_even.hpp"

namespace portweigh::report {

std::string family_text(const options::FamilyResult& family);
nlohmann::ordered_json family_json(const options::FamilyResult& family);

// One option against the cheapest over life.
struct BreakEvenLine {
  std::string option;
  bool meets_budgets = false;
  double cost_over_life = 0;    // for each unit
  std::vector<double> volumes;  // units a year at which the cheaper of the two changes
  std::optional<options::WinningPrice> price;
};

struct BreakEven {
  std::string study;
  std::string currency;
  double volume_per_year = 0;
  double from = 0;  // units a year that were searched
  double to = 0;
  std::string cheapest;  // over life, among those that keep the hard budgets
  double cost_over_life = 0;
  std::vector<BreakEvenLine> lines;  // the other options, cheapest first
};

std::string break_even_text(const BreakEven& result);
nlohmann::ordered_json break_even_json(const BreakEven& result);

}  // namespace portweigh::report

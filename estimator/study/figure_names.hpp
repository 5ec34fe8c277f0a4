// The figures of an option: their names in budgets and results, their units and labels.
//
// Every option has all of them, but those of a battery only where the study has one.
// Tested by tests/study/figure_names_test.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "figures/units/dimension.hpp"

namespace portweigh::study {

struct FigureName {
  std::string name;   // "active_power", as in budgets and in JSON
  std::string unit;   // the unit shown: "W"; "money" stands for the study's currency
  std::string label;  // "active power"
  figures::Dimension dimension;
};

// In the order in which reports show them.
const std::vector<FigureName>& known_figures();

// Null where there is no such figure.
const FigureName* find_figure(std::string_view name);

}  // namespace portweigh::study

// Sweeps, crossovers and drivers as text, CSV and JSON.
//
// Tested by tests/report/terminal/exploration_text_test.cpp and tests/project/explore_verbs_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "decision/information_value.hpp"
#include "exploration/crossover.hpp"
#include "exploration/sweep.hpp"
#include "exploration/variance.hpp"

namespace portweigh::report {

// Who leads where: one line for each value of the first axis (or a map, letters for options, for two axes),
// with the figure of the leaders in engineering units.
std::string winner_map_text(const exploration::Sweep& sweep,
                            const std::vector<exploration::KnownInput>& inputs, const std::string& currency);

// One row for each point and option: inputs, option, value (empty where it can't be built), whether it is
// feasible and whether it leads (RFC 4180). Titles name the unit in which a column's values are.
std::string sweep_csv(const exploration::Sweep& sweep, const std::vector<exploration::KnownInput>& inputs,
                      const std::string& currency);
nlohmann::ordered_json sweep_json(const exploration::Sweep& sweep);

struct NamedCrossover {
  std::string input;
  figures::Unit unit;
  double below = 0;
  double above = 0;
  std::string leader_below;  // "none" where no option is feasible
  std::string leader_above;
};

std::string crossover_text(const std::vector<NamedCrossover>& crossovers, const exploration::Axis& axis);
nlohmann::ordered_json crossover_json(const std::vector<NamedCrossover>& crossovers,
                                      const exploration::Axis& axis);

struct NamedFlip {
  exploration::Flip flip;
  figures::Unit unit;
  std::string new_leader;
};

struct Sensitivity {
  std::string option;  // the leader
  struct Figure {
    std::string key;
    exploration::FigureDrivers drivers;
    figures::Unit unit;
  };
  std::vector<Figure> figures;
  std::vector<NamedFlip> flips;
  decision::Information information;
};

std::string sensitivity_text(const Sensitivity& sensitivity);
nlohmann::ordered_json sensitivity_json(const Sensitivity& sensitivity);

// A cell of a CSV file: quoted where RFC 4180 asks, and with a leading apostrophe where a spreadsheet would
// take the text for a formula.
std::string csv_cell(std::string_view text);

}  // namespace portweigh::report

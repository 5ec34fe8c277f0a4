#include "accuracy_fixture.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <tuple>

#include "firmware/cost.hpp"
#include "measured_routines.hpp"

namespace portweigh::firmware {

namespace {

struct Row {
  double cycles = 0;
  double bytes = 0;
};
using Table = std::map<std::tuple<std::string, std::string, std::string>, Row>;  // routine, core, goal

Table read_table(const std::string& file_name, std::size_t cycles_column, std::size_t bytes_column) {
  std::ifstream file(std::string(PORTWEIGH_TESTS_DIR) + "/reference/" + file_name);
  if (!file) throw std::runtime_error("cannot read " + file_name);
  Table table;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells;
    std::stringstream text(line);
    std::string cell;
    while (cells.size() <= bytes_column && std::getline(text, cell, ',')) cells.push_back(cell);
    table[{cells.at(0), cells.at(1), cells.at(2)}] = {std::stod(cells.at(cycles_column)),
                                                      std::stod(cells.at(bytes_column))};
  }
  return table;
}

Table twins() {
  return read_table("twins/measured.csv", 3, 4);
}
Table independent() {
  return read_table("measured/firmware.csv", 4, 7);
}

bool is_same_text(const Table& twin_table, const Table& table, const MeasuredRoutine& routine) {
  for (const std::string core : {"8-bit-two-stage", "32-bit-two-stage"}) {
    const auto twin = twin_table.find({routine.name, core, "size"});
    const auto row = table.find({routine.name, core, "size"});
    if (twin == twin_table.end() || row == table.end()) return false;
    if (std::abs(twin->second.cycles / routine.units / row->second.cycles - 1) > 0.12) return false;
  }
  return true;
}

// Each row is compared with the model of its own goal.
void add_rows(std::vector<ComparedRow>& rows, const Table& table, const Core& core,
              const MeasuredRoutine& candidate, const Counts& counts, double units) {
  for (const auto& [goal, name] : {std::pair(Goal::size, "size"), std::pair(Goal::speed, "speed")}) {
    const auto found = table.find({candidate.name, core.name, name});
    if (found == table.end()) continue;
    const Translation translation(candidate.routine, built_for(core, goal));
    rows.push_back({candidate.name, name, found->second.cycles, found->second.bytes,
                    translation.model_cycles(counts) / units, translation.model_code_bytes()});
  }
}

}  // namespace

std::vector<ComparedRow> compare_twins(const Core& core) {
  const auto table = twins();
  std::vector<ComparedRow> rows;
  for (auto& candidate : measured_routines()) {
    RecordingMachine machine(candidate.routine);
    machine.record(60);
    candidate.events(machine);
    add_rows(rows, table, core, candidate, machine.recorded_counts(), 1);
  }
  return rows;
}

std::vector<IndependentRow> compare_independent(const Core& core) {
  const auto twin_table = twins();
  const auto table = independent();
  std::vector<IndependentRow> all;
  for (auto& candidate : measured_routines()) {
    RecordingMachine machine(candidate.routine);
    candidate.events(machine);
    std::vector<ComparedRow> rows;
    add_rows(rows, table, core, candidate, machine.counts(), candidate.units);
    const bool is_same = is_same_text(twin_table, table, candidate);
    for (const ComparedRow& row : rows) {
      const Row& twin = twin_table.at({candidate.name, core.name, row.built_for});
      all.push_back({row, twin.cycles / candidate.units, is_same});
    }
  }
  return all;
}

double median(std::vector<double> values) {
  return quantile(std::move(values), 0.5);
}

double quantile(std::vector<double> values, double part) {
  if (values.empty()) throw std::invalid_argument("quantile of nothing");
  std::sort(values.begin(), values.end());
  const double at = part * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const auto above = std::min(below + 1, values.size() - 1);
  const double share = at - static_cast<double>(below);
  return values[below] * (1 - share) + values[above] * share;
}

}  // namespace portweigh::firmware

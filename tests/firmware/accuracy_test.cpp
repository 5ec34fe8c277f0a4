#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>

#include <catch2/catch.hpp>

#include "core_fixture.hpp"
#include "firmware/cost.hpp"
#include "firmware/execute.hpp"
#include "measured_routines.hpp"

using namespace portweigh::firmware;

namespace {

struct MeasuredRow {
  std::string routine;
  std::string core;
  std::string built_for;
  double cycles = 0;
  double code_bytes = 0;
};

std::vector<MeasuredRow> read_measured() {
  std::ifstream file(std::string(PORTWEIGH_TESTS_DIR) + "/reference/measured/firmware.csv");
  REQUIRE(file);
  std::vector<MeasuredRow> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells;
    std::stringstream text(line);
    std::string cell;
    while (cells.size() < 8 && std::getline(text, cell, ',')) cells.push_back(cell);
    rows.push_back({cells[0], cells[1], cells[2], std::stod(cells[4]), std::stod(cells[7])});
  }
  return rows;
}

struct Compared {
  MeasuredRow measured;
  double model_cycles = 0;  // before the compiler factor
  double model_bytes = 0;
};

constexpr const char* with_frame = " with interrupt frame";

std::vector<Compared> compare_all(const std::string& core_name) {
  const Core core = read_core(core_name);
  const auto rows = read_measured();
  std::vector<Compared> list;
  for (auto& candidate : measured_routines()) {
    RecordingMachine machine(candidate.routine);
    candidate.events(machine);
    const Translation translation(candidate.routine, core);
    const bool has_frame = candidate.name.ends_with("+isrframe");
    for (const auto& row : rows) {
      if (row.routine != candidate.name) continue;
      if (row.core != core_name + (has_frame ? with_frame : "")) continue;
      const double frame = has_frame ? core.interrupt_frame_cycles : 0;
      list.push_back({row, translation.model_cycles(machine.counts()) / candidate.units + frame,
                      translation.model_code_bytes() + (has_frame ? core.interrupt_frame_bytes : 0)});
    }
  }
  return list;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const auto n = values.size();
  return n % 2 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

}  // namespace

TEST_CASE("routines written from the measured descriptions give right results") {
  for (auto& candidate : measured_routines()) {
    INFO(candidate.name);
    RecordingMachine machine(candidate.routine);
    CHECK_NOTHROW(candidate.check(machine));
  }
}

TEST_CASE("table of model against C twins", "[.print]") {
  std::ifstream file(std::string(PORTWEIGH_TESTS_DIR) + "/reference/twins/measured.csv");
  std::string line;
  std::map<std::string, std::array<double, 2>> measured;  // routine,core,goal -> cycles, bytes
  std::getline(file, line);
  while (std::getline(file, line)) {
    const auto last = line.rfind(',');
    const auto before = line.rfind(',', last - 1);
    measured[line.substr(0, before)] = {std::stod(line.substr(before + 1)), std::stod(line.substr(last + 1))};
  }
  const char* detail = std::getenv("PW_DETAIL");
  for (const std::string name : {"8-bit-two-stage", "32-bit-two-stage", "32-bit-sequential"}) {
    const Core core = read_core(name);
    fmt::print("\n{}\n", name);
    std::vector<double> ratios, byte_ratios;
    for (auto& candidate : measured_routines()) {
      if (candidate.name.ends_with("+isrframe") && !candidate.name.starts_with("bmc")) continue;
      RecordingMachine machine(candidate.routine);
      machine.record(60);
      struct Stop {};
      candidate.events(machine);
      const Translation translation(candidate.routine, core);
      const auto& counts = machine.recorded_counts();
      const double model = translation.model_cycles(counts);
      const double bytes = translation.model_code_bytes();
      const auto size = measured.at(candidate.name + "," + name + ",size");
      const auto speed = measured.at(candidate.name + "," + name + ",speed");
      ratios.push_back(size[0] / model);
      byte_ratios.push_back(size[1] / bytes);
      fmt::print(
          "  {:22} size {:8.1f} speed {:8.1f} model {:8.1f} ratio {:5.2f}   bytes {:5.0f} {:5.0f} {:5.2f}\n",
          candidate.name, size[0], speed[0], model, size[0] / model, size[1], bytes, size[1] / bytes);
      if (detail && candidate.name == detail) {
        const auto sums = translation.operations(counts);
        for (std::size_t i = 0; i < operation_count; ++i) {
          if (sums[i] > 0) {
            fmt::print("      {:18} {:8.2f} x {:5.2f}\n", name_of(static_cast<Operation>(i)), sums[i],
                       core.operations[i].cycles);
          }
        }
      }
    }
    const auto report = [](const char* what, std::vector<double> r) {
      const double centre = median(r);
      std::vector<double> errors;
      for (const double ratio : r) errors.push_back(std::abs(centre / ratio - 1));
      std::sort(errors.begin(), errors.end());
      fmt::print("  {} median ratio {:.3f}, error after it: median {:.1f} %, 90 % {:.1f} %, worst {:.0f} %\n",
                 what, centre, 100 * median(errors), 100 * errors[errors.size() * 9 / 10],
                 100 * errors.back());
    };
    report("cycles", ratios);
    report("bytes", byte_ratios);
  }
}

TEST_CASE("table of model against measured", "[.print]") {
  for (const auto& name : catalog_core_names()) {
    const auto list = compare_all(name);
    if (list.empty()) continue;
    fmt::print("\n{}\n", name);
    std::vector<double> ratios;
    std::vector<double> byte_ratios;
    for (const auto& one : list) {
      const double ratio = one.measured.cycles / one.model_cycles;
      const double byte_ratio = one.measured.code_bytes / one.model_bytes;
      if (one.measured.built_for == "size") {
        ratios.push_back(ratio);
        byte_ratios.push_back(byte_ratio);
      }
      fmt::print(
          "  {:24} {:6} measured {:8.1f} model {:8.1f} ratio {:5.2f}   bytes {:5.0f} {:6.0f} {:5.2f}\n",
          one.measured.routine, one.measured.built_for, one.measured.cycles, one.model_cycles, ratio,
          one.measured.code_bytes, one.model_bytes, byte_ratio);
    }
    const double centre = median(ratios);
    std::vector<double> errors;
    for (const double ratio : ratios) errors.push_back(std::abs(centre / ratio - 1));
    const double byte_centre = median(byte_ratios);
    std::vector<double> byte_errors;
    for (const double ratio : byte_ratios) byte_errors.push_back(std::abs(byte_centre / ratio - 1));
    fmt::print(
        "  size: median ratio {:.3f}, median error after it {:.1f} %, worst {:.0f} %; bytes {:.3f} {:.1f} "
        "%\n",
        centre, 100 * median(errors), 100 * *std::max_element(errors.begin(), errors.end()), byte_centre,
        100 * median(byte_errors));
  }
}

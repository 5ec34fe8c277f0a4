#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include <catch2/catch.hpp>

#include "accuracy_fixture.hpp"
#include "core_fixture.hpp"
#include "measured_routines.hpp"

using namespace portweigh::firmware;

namespace {

const std::vector<std::string> measured_cores = {"8-bit-two-stage", "8-bit-accumulator", "16-bit-register",
                                                 "32-bit-two-stage", "32-bit-sequential"};

struct Accuracy {
  double median_error = 0;  // of typical cycles, relative to measured
  double worst_error = 0;
  double inside = 0;  // share of rows inside low..high
  double median_bytes_error = 0;
  double inside_bytes = 0;
};

Accuracy accuracy_of(const std::vector<ComparedRow>& rows, const FactorRange& cycles,
                     const FactorRange& bytes) {
  std::vector<double> errors;
  std::vector<double> byte_errors;
  double inside = 0;
  double inside_bytes = 0;
  for (const auto& row : rows) {
    errors.push_back(std::abs(row.model_cycles * cycles.typical / row.measured_cycles - 1));
    byte_errors.push_back(std::abs(row.model_bytes * bytes.typical / row.measured_bytes - 1));
    const double ratio = row.measured_cycles / row.model_cycles;
    if (ratio >= cycles.low && ratio <= cycles.high) ++inside;
    const double byte_ratio = row.measured_bytes / row.model_bytes;
    if (byte_ratio >= bytes.low && byte_ratio <= bytes.high) ++inside_bytes;
  }
  const double count = static_cast<double>(rows.size());
  return {median(errors), *std::max_element(errors.begin(), errors.end()), inside / count,
          median(byte_errors), inside_bytes / count};
}

// Factors fitted by class: the middle of measured by model, and the range that leaves out 2 % of the rows on
// either side, so that code nobody looked at finds nine in ten of its own inside.
FactorRange fit(const std::vector<ComparedRow>& rows, bool of_bytes) {
  std::vector<double> ratios;
  for (const auto& row : rows) {
    ratios.push_back(of_bytes ? row.measured_bytes / row.model_bytes
                              : row.measured_cycles / row.model_cycles);
  }
  return {quantile(ratios, 0.02), median(ratios), quantile(ratios, 0.98)};
}

// The same with each routine's own rows left out of the fit that judges it.
Accuracy leave_one_out(const std::vector<ComparedRow>& rows) {
  std::set<std::string> names;
  for (const auto& row : rows) names.insert(row.routine);
  std::vector<double> errors;
  std::vector<double> byte_errors;
  double inside = 0;
  for (const auto& name : names) {
    std::vector<ComparedRow> others;
    std::copy_if(rows.begin(), rows.end(), std::back_inserter(others),
                 [&](const ComparedRow& row) { return row.routine != name; });
    const auto cycles = fit(others, false);
    const auto bytes = fit(others, true);
    for (const auto& row : rows) {
      if (row.routine != name) continue;
      errors.push_back(std::abs(row.model_cycles * cycles.typical / row.measured_cycles - 1));
      byte_errors.push_back(std::abs(row.model_bytes * bytes.typical / row.measured_bytes - 1));
      const double ratio = row.measured_cycles / row.model_cycles;
      if (ratio >= cycles.low && ratio <= cycles.high) ++inside;
    }
  }
  return {median(errors), *std::max_element(errors.begin(), errors.end()),
          inside / static_cast<double>(rows.size()), median(byte_errors), 0};
}

// The same text as ours, or all.
std::vector<ComparedRow> rows_of(const std::vector<IndependentRow>& all, bool same_text_only) {
  std::vector<ComparedRow> rows;
  std::copy_if(all.begin(), all.end(), std::back_inserter(rows),
               [&](const IndependentRow& row) { return row.is_same_text || !same_text_only; });
  return rows;
}

void print_rows(const Core& core, const std::vector<ComparedRow>& rows) {
  for (const auto& row : rows) {
    fmt::print("| {} | {} | {:.1f} | {:.1f} | {:+.0f} % | {:.0f} | {:.0f} | {:+.0f} % |\n", row.routine,
               row.built_for, row.measured_cycles, row.model_cycles * core.compiler_cycles.typical,
               100 * (row.model_cycles * core.compiler_cycles.typical / row.measured_cycles - 1),
               row.measured_bytes, row.model_bytes * core.compiler_bytes.typical,
               100 * (row.model_bytes * core.compiler_bytes.typical / row.measured_bytes - 1));
  }
}

void print_summary(const Core& core, const std::vector<ComparedRow>& rows) {
  const auto cycles = fit(rows, false);
  const auto bytes = fit(rows, true);
  const auto own = accuracy_of(rows, core.compiler_cycles, core.compiler_bytes);
  const auto other = leave_one_out(rows);
  fmt::print("{} rows; factors fitted: cycles {:.2f} {:.2f} {:.2f}, bytes {:.2f} {:.2f} {:.2f}\n",
             rows.size(), cycles.low, cycles.typical, cycles.high, bytes.low, bytes.typical, bytes.high);
  fmt::print(
      "catalog factors: cycles median error {:.1f} %, worst {:.0f} %, inside {:.0f} %; bytes {:.1f} %, "
      "inside {:.0f} %\n",
      100 * own.median_error, 100 * own.worst_error, 100 * own.inside, 100 * own.median_bytes_error,
      100 * own.inside_bytes);
  fmt::print(
      "leave one routine out: cycles median error {:.1f} %, worst {:.0f} %, inside {:.0f} %; bytes {:.1f} "
      "%\n",
      100 * other.median_error, 100 * other.worst_error, 100 * other.inside, 100 * other.median_bytes_error);
}

void print_independent(const Core& core, const std::vector<IndependentRow>& all) {
  fmt::print(
      "\n| routine | built for | same text | cycles measured | our twin | typical | error | bytes measured | "
      "typical | error |\n|---|---|---|---|---|---|---|---|---|---|\n");
  for (const auto& row : all) {
    const double cycles = row.model_cycles * core.compiler_cycles.typical;
    const double bytes = row.model_bytes * core.compiler_bytes.typical;
    fmt::print("| {} | {} | {} | {:.1f} | {:.1f} | {:.1f} | {:+.0f} % | {:.0f} | {:.0f} | {:+.0f} % |\n",
               row.routine, row.built_for, row.is_same_text ? "yes" : "", row.measured_cycles,
               row.twin_cycles, cycles, 100 * (cycles / row.measured_cycles - 1), row.measured_bytes, bytes,
               100 * (bytes / row.measured_bytes - 1));
  }
  fmt::print("\nSame text: ");
  print_summary(core, rows_of(all, true));
  fmt::print("\nAll: ");
  print_summary(core, rows_of(all, false));
}

}  // namespace

TEST_CASE("routines written from the measured descriptions give right results") {
  for (auto& candidate : measured_routines()) {
    INFO(candidate.name);
    RecordingMachine machine(candidate.routine);
    CHECK_NOTHROW(candidate.check(machine));
  }
}

// Twins compiled by real compilers for size and for speed, run on cycle-counting simulators; see
// tests/reference/twins/README.md.
TEST_CASE("typical cycles and bytes are close to compiled C twins") {
  for (const auto& name : measured_cores) {
    INFO(name);
    const Core core = read_core(name);
    const auto rows = compare_twins(core);
    REQUIRE(rows.size() >= 60);
    const auto accuracy = accuracy_of(rows, core.compiler_cycles, core.compiler_bytes);
    CHECK(accuracy.median_error <= 0.12);
    CHECK(accuracy.worst_error <= 0.4);
    CHECK(accuracy.inside >= 0.9);
    CHECK(accuracy.median_bytes_error <= 0.25);
    CHECK(leave_one_out(rows).median_error <= 0.12);
    CHECK(leave_one_out(rows).inside >= 0.9);
  }
}

TEST_CASE("typical cycles are close to independently measured code, above all of the same text") {
  for (const auto& name : measured_cores) {
    INFO(name);
    const Core core = read_core(name);
    const auto all = compare_independent(core);
    const auto same = rows_of(all, true);
    REQUIRE(same.size() >= 10);
    const auto accuracy = accuracy_of(same, core.compiler_cycles, core.compiler_bytes);
    CHECK(accuracy.median_error <= 0.15);
    CHECK(accuracy.inside >= 0.88);
    // Programs that do the same in another way: what their authors choose counts as error here.
    const auto any = accuracy_of(rows_of(all, false), core.compiler_cycles, core.compiler_bytes);
    CHECK(any.median_error <= 0.25);
    CHECK(any.inside >= 0.5);
  }
}

TEST_CASE("print the tables of docs/validation-firmware.md", "[.print]") {
  const std::string head =
      "| routine | built for | cycles measured | typical | error | bytes measured | typical | error |\n"
      "|---|---|---|---|---|---|---|---|\n";
  for (const auto& name : measured_cores) {
    const Core core = read_core(name);
    fmt::print("\n## C twins, {}\n\n{}", name, head);
    print_rows(core, compare_twins(core));
    fmt::print("\n");
    print_summary(core, compare_twins(core));
  }
  for (const auto& name : measured_cores) {
    const Core core = read_core(name);
    fmt::print("\n## Independently measured code, {}\n", name);
    print_independent(core, compare_independent(core));
  }
}

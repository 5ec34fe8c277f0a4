// Race-to-sleep against slow-and-steady, worked out by hand.
#include "options/power/operating_point.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/firmware/processor_estimate.hpp"
#include "options/power/processor_modes.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

reading::SourcedRange exact(double value) {
  reading::SourcedRange range;
  range.range = figures::exactly(value);
  return range;
}

// 100 uA/MHz at full speed, 60 uA/MHz at 1.0 V up to 4 MHz; asleep it takes nothing.
parts::Microcontroller part_with_base(double run_base_a) {
  parts::Microcontroller part;
  part.run_current_per_clock = exact(100e-12);
  part.run_base_current = exact(run_base_a);
  part.sleep_current_per_clock = exact(0);
  part.sleep_base_current = exact(0);
  part.stop_current = exact(0);
  part.stop_doubling = exact(10);
  part.wake_up = exact(0);
  parts::OperatingPoint low;
  low.voltage = exact(1.0);
  low.highest_clock.value_si = 4e6;
  low.run_current_per_clock = exact(60e-12);
  low.sleep_current_per_clock = exact(0);
  part.operating_points = {low};
  return part;
}

// The line always busy, the processor asleep between events, a rail of 3 V.
study::Study busy_study() {
  study::Study study = demo().study;
  study.supply_voltage = exact(3);
  study.while_line_busy = study::WhileLineBusy::asleep;
  study::PortState busy;
  busy.name = "busy";
  busy.is_active = true;
  busy.share = exact(1);
  busy.line_activity = exact(1);
  busy.wake_ups = exact(0);
  study.states = {busy};
  return study;
}

// One task of two cycles, a million times a second.
std::vector<ClockPower> powers_of(const parts::Microcontroller& part) {
  const study::Study study = busy_study();
  const firmware::Core core;
  FirmwareFigures figures;
  figures.event = blocks::Event::tick;
  ScheduledTask task;
  task.block = "steady";
  task.figures = &figures;
  task.rule.mean_rate_hz = 1e6;
  task.mean_cycles = {2, 2, 2};
  Processor processor;
  processor.core = &core;
  processor.clocks_hz = {4e6, 16e6};
  Schedule schedule;
  schedule.tasks = {task};
  schedule.without_waits.busy_hz = {2e6, 2e6, 2e6};
  schedule.feasible_clocks_hz = processor.clocks_hz;
  return average_power_by_clock({demo().catalog, demo().effort, study, demo().library}, part, schedule,
                                processor);
}

ClockPower least_of(const std::vector<ClockPower>& powers) {
  return *std::min_element(powers.begin(), powers.end(),
                           [](const auto& a, const auto& b) { return a.average_w < b.average_w; });
}

}  // namespace

TEST_CASE("With a large base current the fast clock wins: it sleeps sooner") {
  const auto powers = powers_of(part_with_base(500e-6));
  REQUIRE(powers.size() == 3);
  // 4 MHz, load 1/2: 3 V (400 + 500) uA / 2; at 1.0 V 3 V (240 + 500) uA / 2; 16 MHz, load 1/8:
  // 3 V (1600 + 500) uA / 8.
  CHECK(powers[0].average_w == Approx(1350e-6));
  CHECK(powers[1].average_w == Approx(1110e-6));
  CHECK(powers[2].average_w == Approx(787.5e-6));
  CHECK(least_of(powers).clock_hz == 16e6);
  CHECK(least_of(powers).point == 0);
}

TEST_CASE("Each tick of a timer wakes a stopped processor, as long as a timer runs") {
  parts::Microcontroller part = part_with_base(500e-6);
  part.wake_up = exact(10e-6);
  Workload<double> work{4e6, 0, 0, 40, 10e3, false, 1, leakage_reference_k};
  const auto modes = processor_modes(part, 0, busy_study(), work,
                                     [](const parts::SourcedRange& value) { return value.range.typical; });
  // 10,000 a second, each 10 us to wake and 40 cycles at 4 MHz, with 3 V (400 + 500) uA.
  CHECK(modes.ticking_w == Approx(10e3 * 20e-6 * 2.7e-3));
  CHECK(modes.quiet_w == 0);
  // A clock that goes on need not wake up, and takes what sleep takes.
  part.sleep_base_current = exact(100e-6);
  work.runs_while_quiet = true;
  const auto clocked = processor_modes(part, 0, busy_study(), work,
                                       [](const parts::SourcedRange& value) { return value.range.typical; });
  CHECK(clocked.quiet_w == Approx(300e-6));
  CHECK(clocked.ticking_w == Approx(10e3 * 10e-6 * 2.7e-3));
  // 15 ms after each of ten wake-ups a second; a thousand keep timers running all the time.
  CHECK(timers_run(10.0, 15e-3, 1.0) == Approx(0.15));
  CHECK(timers_run(1000.0, 15e-3, 1.0) == 1);
}

TEST_CASE("With a small base current slow and steady at the low voltage wins") {
  const auto powers = powers_of(part_with_base(50e-6));
  // 3 V (240 + 50) uA / 2 against 3 V (1600 + 50) uA / 8; at full voltage, 3 V (400 + 50) uA / 2, the fast
  // clock would win.
  CHECK(powers[1].average_w == Approx(435e-6));
  CHECK(powers[2].average_w == Approx(618.75e-6));
  CHECK(powers[0].average_w == Approx(675e-6));
  CHECK(least_of(powers).clock_hz == 4e6);
  CHECK(least_of(powers).point == 1);
}

TEST_CASE("A switching regulator draws the core's watts over its efficiency") {
  parts::Microcontroller part = part_with_base(0);
  part.operating_points[0].run_current_per_clock = exact(100e-12);
  part.operating_points[0].regulator_efficiency = exact(0.8);
  part.operating_points[0].regulator_current = exact(20e-6);
  const auto currents =
      currents_at(part, 1, exact(3.3), [](const parts::SourcedRange& value) { return value.range.typical; });
  CHECK(currents.run_a_per_hz == Approx(37.88e-12).epsilon(1e-3));
  CHECK(currents.added_a == 20e-6);
  CHECK(reaches(part, 1, 4e6));
  CHECK_FALSE(reaches(part, 1, 8e6));
  CHECK(reaches(part, 0, 16e6));
}

// In the ledger as in the estimate: the options of the demo whose part has several core voltages.
// Its first point is at 0.78 x 1.2 V.
TEST_CASE("The choice of voltage and clock is told and is in the ledger") {
  const auto told = [](const Option& option) {
    return std::any_of(option.notes.begin(), option.notes.end(), [](const std::string& note) {
      const auto taken = note.find("; taken: ");
      return taken != std::string::npos && note.find(" and 936 mV", taken) != std::string::npos;
    });
  };
  std::size_t at_low_voltage = 0;
  for (const Option& option : demo().considered.options) {
    const auto inputs = option.ledger.inputs();
    const bool has_point = std::any_of(inputs.begin(), inputs.end(), [](const figures::Input& input) {
      return input.key.starts_with("parts.mcu-16b-lp.operating_point_1.run_current_per_clock");
    });
    if (!has_point) continue;
    ++at_low_voltage;
    INFO(option.id);
    CHECK(told(option));
    // `explain` shows the inputs and their sources.
    CHECK(std::any_of(inputs.begin(), inputs.end(), [](const figures::Input& input) {
      return input.source.text.find("of the settings worth a comparison") == 0 &&
             input.source.text.find("; taken: ") != std::string::npos;
    }));
  }
  CHECK(at_low_voltage > 0);
}

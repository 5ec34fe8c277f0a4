// The demo study as a whole: kinds of option, reasons, facts of the trade, and properties that hold for any
// study.
#include "options/search/consider.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <map>
#include <regex>
#include <stdexcept>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "figures/ledger/export.hpp"
#include "options/search/enumerate.hpp"

#include <nlohmann/json.hpp>

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

double value(const Option& option, const std::string& key, std::vector<figures::Setting> settings = {}) {
  return figures::evaluate(option.ledger, option.ledger.at(key), settings);
}

// The line carries bits all of the time.
double fully_active_w(const Option& option) {
  return value(option, "active_power", {{"use.active.line_activity", 1.0}});
}

// Process of an embedded-flash microcontroller, in nm, by what its file says: "... 140 nm embedded-flash
// process".
int process_nm(const std::string& microcontroller) {
  for (const auto& device : demo().catalog.microcontrollers) {
    if (device.part.id != microcontroller) continue;
    std::smatch found;
    if (std::regex_search(device.part.source.text, found, std::regex("([0-9]+) nm embedded-flash process"))) {
      return std::stoi(found[1]);
    }
  }
  throw std::runtime_error("no process is told for " + microcontroller);
}

std::vector<const Option*> of_kind(OptionKind kind) {
  std::vector<const Option*> found;
  for (const Option& option : demo().considered.options) {
    if (option.kind == kind) found.push_back(&option);
  }
  return found;
}

}  // namespace

TEST_CASE("The demo has options of every kind and a reason with a number for each rejection") {
  CHECK(demo().considered.options.size() >= 12);
  for (const OptionKind kind : {OptionKind::programmable_logic, OptionKind::microcontroller,
                                OptionKind::fixed_function, OptionKind::split}) {
    INFO(to_string(kind));
    CHECK_FALSE(of_kind(kind).empty());
  }
  CHECK_FALSE(demo().considered.rejections.empty());
  for (const Rejection& rejection : demo().considered.rejections) {
    INFO(rejection.id << ": " << rejection.reason);
    CHECK(std::any_of(rejection.reason.begin(), rejection.reason.end(),
                      [](unsigned char c) { return std::isdigit(c) != 0; }));
    CHECK(rejection.needed > rejection.available);
  }
}

// Common practice, no source seen: fully active, programmable logic that holds the port takes 4 to 12 mW;
// microcontrollers of older embedded-flash processes (100 nm and more) doing the same in firmware 40 to 110
// mW; a fixed-function controller the least. Newer processes lie between.
TEST_CASE("Fully active powers are those of the trade") {
  double lowest_logic_w = 1;
  for (const Option* option : of_kind(OptionKind::programmable_logic)) {
    INFO(option->id);
    lowest_logic_w = std::min(lowest_logic_w, fully_active_w(*option));
    CHECK(fully_active_w(*option) > 0.004);
    CHECK(fully_active_w(*option) < 0.012);
  }
  CHECK(lowest_logic_w < 0.012);
  const auto microcontrollers = of_kind(OptionKind::microcontroller);
  REQUIRE_FALSE(microcontrollers.empty());
  double lowest_older_w = 1;
  double highest_newer_w = lowest_logic_w;
  for (const Option* option : microcontrollers) {
    INFO(option->id);
    const double power_w = fully_active_w(*option);
    if (process_nm(option->id) < 100) {
      CHECK(power_w > lowest_logic_w);
      highest_newer_w = std::max(highest_newer_w, power_w);
    } else {
      CHECK(power_w > 0.040);
      CHECK(power_w < 0.110);
      lowest_older_w = std::min(lowest_older_w, power_w);
    }
  }
  CHECK(lowest_older_w < 1);
  CHECK(highest_newer_w < lowest_older_w);
  const auto fixed = of_kind(OptionKind::fixed_function);
  REQUIRE_FALSE(fixed.empty());
  double lowest_fixed_w = 1;
  double cheapest_fixed = 1e9;
  for (const Option* option : fixed) {
    lowest_fixed_w = std::min(lowest_fixed_w, fully_active_w(*option));
    cheapest_fixed = std::min(cheapest_fixed, value(*option, "unit_cost"));
  }
  CHECK(lowest_fixed_w < lowest_logic_w);
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    CHECK(value(option, "unit_cost") >= cheapest_fixed);
  }
}

TEST_CASE("An 8-bit core without capture hardware is rejected for the load of the edges") {
  const auto& all = demo().considered.rejections;
  const auto basic =
      std::find_if(all.begin(), all.end(), [](const auto& one) { return one.id == "mcu-8b-basic"; });
  REQUIRE(basic != all.end());
  INFO(basic->reason);
  CHECK(basic->reason.find("line-decode") != std::string::npos);
  CHECK(basic->reason.find("highest clock is") != std::string::npos);
}

TEST_CASE("The power of a state is the sum of its contributors") {
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    double sum = 0;
    for (const std::uint32_t node : option.ledger.named_nodes()) {
      const std::string& key = option.ledger.name_of(node)->key;
      if (key.starts_with("state_power.active.")) sum += value(option, key);
    }
    CHECK(sum == Approx(value(option, "active_power")).epsilon(1e-12));
  }
}

TEST_CASE("Longer active time never lowers average power, higher ambient never lowers any power") {
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    double previous = 0;
    for (const double duty : {0.0, 0.01, 0.1, 0.5, 1.0}) {
      const double average = value(option, "average_power", {{"duty_cycle", duty}});
      CHECK(average >= previous);
      previous = average;
    }
    double cooler = 0;
    for (const double ambient_k : {250.0, 300.0, 330.0, 350.0}) {
      const double standby = value(option, "standby_power", {{"study.ambient", ambient_k}});
      CHECK(standby >= cooler);
      cooler = standby;
    }
  }
}

// A processor that can't keep up with messages without pause falls behind for good, however late its deadlines are.
TEST_CASE("No processor of an option has more to do than its clock allows") {
  unsigned seen = 0;
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    if (option.ledger.find("soft_load")) CHECK(value(option, "soft_load") <= 1);
    if (!option.ledger.find("counts.busy_cycles")) continue;
    const char* clock = option.ledger.find("processor_clock") ? "processor_clock" : "clock_rate";
    CHECK(value(option, "counts.busy_cycles") + value(option, "counts.attached_cycles") <=
          value(option, clock));
    ++seen;
  }
  CHECK(seen > 20);
}

// Detached instead of active or attached: longer sleep. The wake-ups of the states stay as they are.
TEST_CASE("Longer sleep never raises average power, unless it wakes the part more often") {
  const auto& states = demo().study.states;
  const auto detached =
      std::find_if(states.begin(), states.end(), [](const auto& state) { return !state.is_attached; });
  REQUIRE(detached != states.end());
  const std::string share = "use." + detached->name + ".share";
  const std::string wake_ups = "use." + detached->name + ".wake_ups";
  const double often_hz = 1e5;
  bool rises_with_wake_ups = false;
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    if (!option.ledger.find(wake_ups)) continue;  // no processor that sleeps while detached
    double before = 1e9;
    for (const double sleep : {0.0, 0.3, 0.6, 0.9, 1.5}) {
      const double average = value(option, "average_power", {{share, sleep}, {wake_ups, 0.0}});
      CHECK(average <= before * (1 + 1e-12));
      before = average;
    }
    const double short_w = value(option, "average_power", {{share, 0.1}, {wake_ups, often_hz}});
    const double long_w = value(option, "average_power", {{share, 0.9}, {wake_ups, often_hz}});
    rises_with_wake_ups = rises_with_wake_ups || long_w > short_w;
  }
  CHECK(rises_with_wake_ups);
}

TEST_CASE("More volume never raises unit cost or cost over life") {
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    double unit = 1e9;
    double life = 1e9;
    for (const double volume : {16000.0, 40000.0, 100000.0, 1e6}) {
      const double unit_now = value(option, "unit_cost", {{"volume_per_year", volume}});
      const double life_now = value(option, "cost_per_unit_over_life", {{"volume_per_year", volume}});
      CHECK(unit_now <= unit);
      CHECK(life_now <= life);
      unit = unit_now;
      life = life_now;
    }
  }
}

// The samples of a key are drawn once for all options.
TEST_CASE("An input with a spread has the same range in every option that has it") {
  std::map<std::string, figures::Range> ranges;
  for (const Option& option : demo().considered.options) {
    for (const figures::Input& input : option.ledger.inputs()) {
      if (input.range.low == input.range.high) continue;
      const auto [known, is_new] = ranges.try_emplace(input.key, input.range);
      INFO(option.id << ": " << input.key);
      CHECK(known->second.low == input.range.low);
      CHECK(known->second.typical == input.range.typical);
      CHECK(known->second.high == input.range.high);
    }
  }
}

TEST_CASE("Every option is the same whatever the number of threads") {
  const Considered again = consider(demo().context(), 5);
  REQUIRE(again.options.size() == demo().considered.options.size());
  for (std::size_t i = 0; i < again.options.size(); ++i) {
    CHECK(figures::to_json(again.options[i].ledger).dump() ==
          figures::to_json(demo().considered.options[i].ledger).dump());
  }
  REQUIRE(again.rejections.size() == demo().considered.rejections.size());
  for (std::size_t i = 0; i < again.rejections.size(); ++i) {
    CHECK(again.rejections[i].reason == demo().considered.rejections[i].reason);
  }
}

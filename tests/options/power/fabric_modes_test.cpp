#include "options/power/fabric_modes.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/option.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

parts::ProgrammableLogic part_named(const std::string& id) {
  const auto& all = demo().catalog.programmable_logic;
  return *std::find_if(all.begin(), all.end(), [&](const auto& part) { return part.part.id == id; });
}

Option realised(const parts::ProgrammableLogic& part) {
  Candidate candidate;
  candidate.id = part.part.id;
  candidate.kind = OptionKind::programmable_logic;
  candidate.add(&part);
  candidate.engine_of_block.assign(demo().study.function.blocks.size(), EngineKind::fabric);
  Realised result = realise(demo().context(), candidate);
  if (const auto* rejection = std::get_if<Rejection>(&result)) FAIL(rejection->reason);
  return std::move(std::get<Option>(result));
}

double value(const Option& option, const std::string& key) {
  return figures::evaluate(option.ledger, option.ledger.at(key));
}

std::string note_on_clocks(const Option& option) {
  const auto found = std::find_if(option.notes.begin(), option.notes.end(), [](const std::string& note) {
    return note.find("clocks") != std::string::npos;
  });
  return found == option.notes.end() ? "" : *found;
}

reading::SourcedRange seconds(double low, double high) {
  return {{low, (low + high) / 2, high}, figures::parse_unit("s"), {}};
}

}  // namespace

// By hand from pl-flash-d's file: 18 us to wake up; 15 ms is the longest time to answer.
TEST_CASE("A fabric that wakes up within the preamble stops its clocks on a quiet line") {
  const parts::ProgrammableLogic part = part_named("pl-flash-d");
  const Option option = realised(part);
  for (const char* running : {"bias", "oscillator", "clock_tree", "toggling", "ram", "leakage"}) {
    INFO(running);
    CHECK(value(option, std::string("power.") + running + ".quiet") == 0);
  }
  CHECK(value(option, "power.standby.quiet") > 0);
  CHECK(value(option, "power.standby.quiet") == value(option, "power.standby.detached"));
  const double more_w = value(option, "power.bias.busy") + value(option, "power.oscillator.busy") +
                        value(option, "power.clock_tree.busy") + value(option, "power.leakage.busy") -
                        value(option, "power.standby.detached");
  CHECK(value(option, "fabric_wake_up_energy") == Approx(more_w * 15.018e-3));
  const double events_hz = 0.0002 * 1043.45 + 0.5;  // of the demo's idle state
  CHECK(value(option, "state_power.idle.wake_ups_fabric") ==
        Approx(0.9998 * events_hz * more_w * 15.018e-3).epsilon(1e-4));
  CHECK(note_on_clocks(option).find("stops its clocks while attached") != std::string::npos);
}

TEST_CASE("The search's share of time with clocks running is the ledger's") {
  parts::ProgrammableLogic part = part_named("pl-flash-d");
  const Option stopping = realised(part);
  const double running_w_of_ledger = value(stopping, "fabric_running");
  const double share = clocked_share(demo().study, part, QuietClocks::stopped);
  CHECK(running_w(demo().study, part) == Approx(running_w_of_ledger).epsilon(0.12));  // registers, own heat
  part.wake_up.reset();
  const Option awake = realised(part);
  CHECK(note_on_clocks(awake).find("no wake-up time") != std::string::npos);
  const double share_awake = clocked_share(demo().study, part, QuietClocks::no_wake_up_told);
  CHECK(share_awake == Approx(0.06 + 0.0001 + 0.0099));
  CHECK(value(awake, "average_power") - value(stopping, "average_power") ==
        Approx((share_awake - share) * running_w_of_ledger));
  CHECK(value(awake, "active_power") == Approx(value(stopping, "active_power")));
}

// 48 bits at 330 kb/s: 145.45 us.
TEST_CASE("A fabric that wakes up too slowly, or whose outputs need the clock, stays awake") {
  parts::ProgrammableLogic part = part_named("pl-flash-a");
  study::PortFunction function = demo().study.function;
  const std::vector<EngineKind> all_here(function.blocks.size(), EngineKind::fabric);
  function.timing.bit_rate.range.high = 330e3;
  part.wake_up = seconds(1e-6, 145.4e-6);
  CHECK(quiet_clocks(part, function, all_here) == QuietClocks::stopped);
  part.wake_up = seconds(1e-6, 145.5e-6);
  CHECK(quiet_clocks(part, function, all_here) == QuietClocks::too_slow);
  CHECK(describe(QuietClocks::too_slow, part, function).find("145") != std::string::npos);
  part.wake_up = seconds(1e-6, 2e-6);
  blocks::Kind modulation = *function.blocks.back().kind;
  modulation.runs_while_quiet = true;
  function.blocks.back().kind = &modulation;
  CHECK(quiet_clocks(part, function, all_here) == QuietClocks::needed);
  std::vector<EngineKind> elsewhere = all_here;
  elsewhere.back() = EngineKind::microcontroller;
  CHECK(quiet_clocks(part, function, elsewhere) == QuietClocks::stopped);
  part.wake_up.reset();
  CHECK(quiet_clocks(part, function, all_here) == QuietClocks::no_wake_up_told);
}

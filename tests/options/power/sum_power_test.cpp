#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

double value(const Option& option, const std::string& key,
             const std::vector<figures::Setting>& settings = {}) {
  return figures::evaluate(option.ledger, option.ledger.at(key), settings);
}

const Option& option_named(const std::string& id) {
  for (const Option& option : demo().considered.options) {
    if (option.id == id) return option;
  }
  throw std::runtime_error("no option " + id);
}

}  // namespace

TEST_CASE("A processor that never sleeps pays for no waking") {
  const Option& option = option_named("mcu-32b-mid");
  const std::vector<figures::Setting> always = {{"use.active.line_activity", 1.0},
                                                {"use.active.wake_ups", 1000}};
  CHECK(value(option, "state_power.active.wake_ups_processor", always) == 0);
  // With half of the line's messages and 10 other events a second, each where the line was quiet.
  const std::vector<figures::Setting> half = {{"use.active.line_activity", 0.5}, {"use.active.wake_ups", 10}};
  const double messages_hz = value(option, "wake_ups.active", half) - 10;
  const double bits = demo().study.function.timing.message_bits.range.typical;
  const double bit_rate_hz = demo().study.function.timing.bit_rate.range.typical;
  CHECK(messages_hz == Approx(0.5 / (bits / bit_rate_hz + demo().study.function.timing.turn_round.value_si)));
  CHECK(value(option, "state_power.active.wake_ups_processor", half) ==
        Approx(0.5 * ((messages_hz + 10) * value(option, "processor_wake_up_energy") +
                      value(option, "processor_ticking"))));  // timers run all of that time
}

TEST_CASE("A host is woken once for each message") {
  const Option& option = option_named("ff-line+host:policy");
  const auto active_w = [&](double wake_up_j) {
    return value(option, "active_power",
                 {{"use.active.line_activity", 1.0}, {"study.host.wake_up_energy", wake_up_j}});
  };
  const double bits = demo().study.function.timing.message_bits.range.typical;
  const double bit_rate_hz = demo().study.function.timing.bit_rate.range.typical;
  const double messages_hz = 1 / (bits / bit_rate_hz + demo().study.function.timing.turn_round.value_si);
  CHECK(active_w(2e-6) - active_w(1e-6) == Approx(1e-6 * messages_hz).epsilon(1e-6));
}

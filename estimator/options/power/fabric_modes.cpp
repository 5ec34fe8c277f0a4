#include "options/power/fabric_modes.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"
#include "options/firmware/event_rules.hpp"
#include "options/power/processor_modes.hpp"

namespace portweigh::options {
namespace {

const study::FunctionBlock* block_that_needs_clock(const study::PortFunction& function,
                                                   const std::vector<EngineKind>& engine_of_block) {
  for (std::size_t i = 0; i < engine_of_block.size(); ++i) {
    if (engine_of_block[i] == EngineKind::fabric && function.blocks[i].kind->runs_while_quiet) {
      return &function.blocks[i];
    }
  }
  return nullptr;
}

}  // namespace

QuietClocks quiet_clocks(const parts::ProgrammableLogic& part, const study::PortFunction& function,
                         const std::vector<EngineKind>& engine_of_block) {
  if (!part.wake_up) return QuietClocks::no_wake_up_told;
  if (!wakes_within_preamble(*part.wake_up, function.timing)) return QuietClocks::too_slow;
  if (block_that_needs_clock(function, engine_of_block) != nullptr) return QuietClocks::needed;
  return QuietClocks::stopped;
}

std::string describe(QuietClocks clocks, const parts::ProgrammableLogic& part,
                     const study::PortFunction& function) {
  const std::string& id = part.part.id;
  const auto time = [](double seconds) {
    return figures::format_quantity(seconds, figures::dimensions::time);
  };
  switch (clocks) {
    case QuietClocks::stopped:
      return fmt::format(
          "{} stops its clocks while attached and the line is quiet: it wakes up in at most {}, {} are "
          "left before a preamble is lost",
          id, time(part.wake_up->range.high), time(time_to_wake_s(function.timing)));
    case QuietClocks::no_wake_up_told:
      return fmt::format("{} keeps its clocks running while attached: its file tells no wake-up time", id);
    case QuietClocks::too_slow:
      return fmt::format(
          "{} keeps its clocks running while attached: it wakes up in {}, {} are left before a preamble "
          "is lost",
          id, time(part.wake_up->range.high), time(time_to_wake_s(function.timing)));
    case QuietClocks::needed:
      return fmt::format("{} keeps its clocks running while attached: outputs of its blocks need them", id);
  }
  return "";
}

double clocked_share(const study::Study& study, const parts::ProgrammableLogic& part, QuietClocks clocks) {
  const study::Timing& timing = study.function.timing;
  const double messages_hz = message_rate_hz(timing, timing.bit_rate.range.typical);
  const double awake_s =
      part.wake_up ? awake_for_event(part.wake_up->range.typical, timing.turn_round.value_si) : 0;
  double share = 0;
  for (const study::PortState& state : study.states) {
    const double activity = state.line_activity.range.typical;
    const double others_hz = state.wake_ups.range.typical;
    double clocked = others_hz * awake_s;
    if (state.is_attached) {
      const double quiet =
          clocks == QuietClocks::stopped ? (activity * messages_hz + others_hz) * awake_s : 1;
      clocked = mixed(activity, 1.0, quiet);
    }
    share += state.share.range.typical * clocked;
  }
  return share;
}

double least_clocked_share(const study::Study& study, const parts::ProgrammableLogic& part) {
  return clocked_share(study, part, quiet_clocks(part, study.function, {}));
}

double running_w(const study::Study& study, const parts::ProgrammableLogic& part) {
  const double supply_v = study.supply_voltage.range.typical;
  const double clock_hz = study.function.timing.oversampling * study.function.timing.bit_rate.range.typical;
  double running_a = clock_hz * part.clock_trunk_energy.range.typical / part.core_voltage.range.typical;
  if (part.oscillator_frequency) running_a += part.oscillator_current.range.typical;
  if (part.standby_current) {
    const double growth =
        leakage_growth(study.ambient.range.typical, leakage_reference_k, part.leakage_doubling.range.typical);
    running_a += part.bias_current.range.typical +
                 growth * (part.leakage_current.range.typical - part.standby_current->range.typical);
  }
  return supply_v * running_a;
}

}  // namespace portweigh::options

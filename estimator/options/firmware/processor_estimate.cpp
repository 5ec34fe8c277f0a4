#include "options/firmware/processor_estimate.hpp"

#include <algorithm>

#include "options/power/processor_modes.hpp"

namespace portweigh::options {
namespace {

double average_power_w(const study::Study& study, const parts::Microcontroller& part,
                       const Schedule& schedule, double clock_hz, std::size_t point) {
  const Workload<double> work{clock_hz,
                              schedule.busy_hz.typical + schedule.attached_hz.typical,
                              schedule.wake_up_cycles,
                              schedule.tick_cycles,
                              schedule.tick_hz,
                              schedule.runs_while_quiet,
                              1,
                              leakage_reference_k};
  const auto modes = processor_modes(part, point, study, work,
                                     [](const parts::SourcedRange& value) { return value.range.typical; });
  const double busy_w =
      study.while_line_busy == study::WhileLineBusy::awake ? modes.awake_w : modes.sleeping_w;
  const double response_s = study.function.timing.response.value_si;
  double average_w = 0;
  for (const study::PortState& state : study.states) {
    const double activity = state.line_activity.range.typical;
    const double others_hz = state.wake_ups.range.typical;
    const double wakes_hz =
        activity * message_rate_hz(study.function.timing, study.function.timing.bit_rate.range.typical) +
        others_hz;
    const double state_w = state.is_attached
                               ? mixed(activity, busy_w,
                                       modes.quiet_w + wakes_hz * modes.quiet_wake_up_j +
                                           timers_run(wakes_hz, response_s, 1.0) * modes.ticking_w)
                               : modes.stopped_w + others_hz * modes.wake_up_j;
    average_w += state.share.range.typical * state_w;
  }
  return average_w;
}

struct HoldingClock {
  double clock_hz = 0;
  bool is_comfortable = false;  // more than fast enough, as the header says
};

// At which all deadlines hold with typical cycles, rising.
std::vector<HoldingClock> holding_clocks(const Schedule& schedule, const Processor& processor) {
  Schedule tried = schedule;
  std::vector<HoldingClock> clocks;
  for (const double clock_hz : processor.clocks_hz) {
    set_clock(tried, processor, clock_hz);
    const firmware::CostRange& need = tried.required_hz;
    constexpr double rounding = 1e-12;
    if (need.typical > clock_hz * (1 + rounding)) continue;
    clocks.push_back({clock_hz, need.high * need.high <= need.typical * clock_hz});
  }
  return clocks;
}

}  // namespace

std::vector<ClockPower> average_power_by_clock(const Context& context, const parts::Microcontroller& part,
                                               const Schedule& schedule, const Processor& processor) {
  std::vector<ClockPower> powers;
  Schedule tried = schedule;
  for (const double clock_hz : schedule.feasible_clocks_hz) {
    set_clock(tried, processor, clock_hz);
    for (std::size_t point = 0; point < points_of(part); ++point) {
      if (!reaches(part, point, clock_hz)) continue;
      powers.push_back({clock_hz, point, average_power_w(context.study, part, tried, clock_hz, point)});
    }
  }
  return powers;
}

std::vector<ClockPower> clocks_worth_comparing(const Context& context, const parts::Microcontroller& part,
                                               const Schedule& schedule, const Processor& processor) {
  Schedule tried = schedule;
  tried.feasible_clocks_hz.clear();
  std::vector<double> comfortable_hz;
  for (const HoldingClock& clock : holding_clocks(schedule, processor)) {
    tried.feasible_clocks_hz.push_back(clock.clock_hz);
    if (clock.is_comfortable) comfortable_hz.push_back(clock.clock_hz);
  }
  const auto powers = average_power_by_clock(context, part, tried, processor);
  std::vector<ClockPower> worth;
  for (const ClockPower& power : powers) {
    const bool is_useless = std::any_of(powers.begin(), powers.end(), [&](const ClockPower& other) {
      return other.point == power.point && other.clock_hz < power.clock_hz &&
             other.average_w <= power.average_w &&
             std::find(comfortable_hz.begin(), comfortable_hz.end(), other.clock_hz) != comfortable_hz.end();
    });
    if (!is_useless) worth.push_back(power);
  }
  return worth;
}

std::vector<double> soft_clocks_worth_comparing(const Schedule& schedule, const Processor& processor) {
  std::vector<double> worth_hz;
  for (const HoldingClock& clock : holding_clocks(schedule, processor)) {
    worth_hz.push_back(clock.clock_hz);
    if (clock.is_comfortable) break;
  }
  return worth_hz;
}

std::optional<double> least_average_power_w(const Context& context, const parts::Microcontroller& part,
                                            const Schedule& schedule, const Processor& processor) {
  std::optional<double> least_w;
  for (const ClockPower& power : average_power_by_clock(context, part, schedule, processor)) {
    if (!least_w || power.average_w < *least_w) least_w = power.average_w;
  }
  return least_w;
}

}  // namespace portweigh::options

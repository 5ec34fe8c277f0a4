#include "options/firmware/processor_estimate.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "options/power/operating_point.hpp"
#include "options/power/processor_modes.hpp"

namespace portweigh::options {
namespace {

double average_power_w(const Context& context, const parts::Microcontroller& part, const Schedule& schedule,
                       double clock_hz, std::size_t point) {
  const study::Study& study = context.study;
  const double supply_v = study.supply_voltage.range.typical;
  const PointCurrents currents = currents_at(part, point, supply_v);
  const double run_a =
      currents.run_a_per_hz * clock_hz + part.run_base_current.range.typical + currents.added_a;
  const double sleep_a =
      currents.sleep_a_per_hz * clock_hz + part.sleep_base_current.range.typical + currents.added_a;
  constexpr double reference_k = 298.15;
  const double stop_a =
      part.stop_current.range.typical *
      std::exp2((study.ambient.range.typical - reference_k) / part.stop_doubling.range.typical);
  const double load = std::min(1.0, (schedule.busy_hz.typical + schedule.attached_hz.typical) / clock_hz);
  const double busy_a =
      study.while_line_busy == study::WhileLineBusy::awake ? run_a : load * run_a + (1 - load) * sleep_a;
  const double quiet_a = wakes_within_preamble(part, study.function.timing) ? stop_a : sleep_a;
  const double wake_up_c = run_a * (part.wake_up.range.typical + schedule.wake_up_cycles / clock_hz);
  double average_a = 0;
  for (const study::PortState& state : study.states) {
    const double activity = state.is_attached ? state.line_activity.range.typical : 0;
    const double waiting_a = state.is_attached ? quiet_a : stop_a;
    average_a += state.share.range.typical *
                 (activity * busy_a + (1 - activity) * waiting_a + state.wake_ups.range.typical * wake_up_c);
  }
  return supply_v * average_a;
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
      powers.push_back({clock_hz, point, average_power_w(context, part, tried, clock_hz, point)});
    }
  }
  return powers;
}

std::optional<double> least_average_power_w(const Context& context, const parts::Microcontroller& part,
                                            std::span<const study::FunctionBlock* const> blocks,
                                            const Processor& processor) {
  const Schedule schedule = schedule_without_search(context, blocks, processor);
  std::optional<double> least_w;
  for (const ClockPower& power : average_power_by_clock(context, part, schedule, processor)) {
    if (!least_w || power.average_w < *least_w) least_w = power.average_w;
  }
  return least_w;
}

}  // namespace portweigh::options

#include "logic/simulation/clock.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace portweigh::logic {
namespace {

void require_time(const Spread& spread, const char* name) {
  for (const double value : {spread.low, spread.typical, spread.high}) {
    if (!std::isfinite(value) || value < 0) throw std::logic_error(fmt::format("{} of {} s", name, value));
  }
}

}  // namespace

Spread path_delay_s(const Timing& timing, const PathShape& path) {
  if (!(path.fill >= 0 && path.fill <= 1)) throw std::logic_error(fmt::format("fill {}", path.fill));
  if (!(path.fanout >= 1)) throw std::logic_error(fmt::format("fan-out {}", path.fanout));
  require_time(timing.clock_to_output_s, "clock to output");
  require_time(timing.lut_s, "LUT delay");
  require_time(timing.routing_s, "routing delay");
  require_time(timing.setup_s, "setup time");
  require_time(timing.carry_per_bit_s, "carry delay");
  const double slowing =
      (1 + timing.fill_slope * path.fill) * (1 + timing.fanout_slope * std::log2(path.fanout));
  const double hops = std::max(path.levels, 1U);
  const auto delay = [&](double Spread::*value) {
    return timing.clock_to_output_s.*value + path.levels * (timing.lut_s.*value) +
           hops * (timing.routing_s.*value) * slowing + path.carry_bits * (timing.carry_per_bit_s.*value) +
           timing.setup_s.*value;
  };
  return {delay(&Spread::low), delay(&Spread::typical), delay(&Spread::high)};
}

Spread attainable_clock_hz(const Spread& delay_s) {
  if (!(delay_s.low > 0)) throw std::logic_error(fmt::format("path delay of {} s", delay_s.low));
  return {1 / delay_s.high, 1 / delay_s.typical, 1 / delay_s.low};
}

double required_clock_hz(double bit_rate_hz, double oversampling) {
  return bit_rate_hz * oversampling;
}

Spread slack_s(const Spread& delay_s, double clock_hz) {
  const double period_s = 1 / clock_hz;
  return {period_s - delay_s.high, period_s - delay_s.typical, period_s - delay_s.low};
}

}  // namespace portweigh::logic

#include "options/power/temperature.hpp"

namespace portweigh::options {
namespace {

constexpr double hopeless_k = 1000;
// Each step shrinks the rest by the loop gain, about 0.13 at the powers of port electronics.
constexpr int unrolled_steps = 4;

}  // namespace

figures::Figure leakage_reference(figures::Ledger& ledger) {
  return ledger.constant(leakage_reference_k, figures::dimensions::temperature,
                         "25 degC, at which leakage is given");
}

figures::Figure settled_leakage_w(figures::Ledger& ledger, const LeakageLoop& loop) {
  const auto at_w = [&](figures::Figure temperature_k) {
    return loop.supply_v * loop.leakage_a *
           leakage_growth(temperature_k, leakage_reference(ledger), loop.doubling_k);
  };
  figures::Figure leakage_w = at_w(loop.ambient_k);
  for (int step = 0; step < unrolled_steps; ++step) {
    leakage_w = at_w(loop.ambient_k + loop.thermal_resistance * (loop.other_w + leakage_w));
  }
  return leakage_w;
}

std::optional<double> settled_temperature_k(const LeakageValues& values) {
  double temperature_k = values.ambient_k;
  // The step from below grows monotonically towards the lowest fixed point, or without end.
  for (int step = 0; step < 10000; ++step) {
    const double leakage_w = values.supply_v * values.leakage_a *
                             std::exp2((temperature_k - leakage_reference_k) / values.doubling_k);
    const double next_k = values.ambient_k + values.thermal_resistance * (values.other_w + leakage_w);
    if (!(next_k < hopeless_k)) return std::nullopt;
    if (next_k - temperature_k < 1e-9) return next_k;
    temperature_k = next_k;
  }
  return std::nullopt;
}

}  // namespace portweigh::options

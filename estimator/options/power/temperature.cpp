#include "options/power/temperature.hpp"

#include <cmath>
#include <numbers>

namespace portweigh::options {
namespace {

constexpr double reference_k = 298.15;  // 25 degC, at which data are given
constexpr double hopeless_k = 1000;
// Each step shrinks the rest by the loop gain, about 0.13 at the powers of port electronics.
constexpr int unrolled_steps = 4;

}  // namespace

figures::Figure leakage_growth(figures::Ledger& ledger, figures::Figure temperature_k,
                               figures::Figure doubling_k) {
  const figures::Figure reference =
      ledger.constant(reference_k, figures::dimensions::temperature, "25 degC, at which leakage is given");
  return exp(std::numbers::ln2 * ((temperature_k - reference) / doubling_k));
}

figures::Figure settled_leakage_w(figures::Ledger& ledger, const LeakageLoop& loop) {
  const figures::Figure cold_w =
      loop.supply_v * loop.leakage_a * leakage_growth(ledger, loop.ambient_k, loop.doubling_k);
  figures::Figure leakage_w = cold_w;
  for (int step = 0; step < unrolled_steps; ++step) {
    const figures::Figure temperature_k =
        loop.ambient_k + loop.thermal_resistance * (loop.other_w + leakage_w);
    leakage_w = loop.supply_v * loop.leakage_a * leakage_growth(ledger, temperature_k, loop.doubling_k);
  }
  return leakage_w;
}

std::optional<double> settled_temperature_k(const LeakageValues& values) {
  double temperature_k = values.ambient_k;
  // The step from below grows monotonically towards the lowest fixed point, or without end.
  for (int step = 0; step < 10000; ++step) {
    const double leakage_w =
        values.supply_v * values.leakage_a * std::exp2((temperature_k - reference_k) / values.doubling_k);
    const double next_k = values.ambient_k + values.thermal_resistance * (values.other_w + leakage_w);
    if (!(next_k < hopeless_k)) return std::nullopt;
    if (next_k - temperature_k < 1e-9) return next_k;
    temperature_k = next_k;
  }
  return std::nullopt;
}

}  // namespace portweigh::options

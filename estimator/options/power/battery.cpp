// How long a battery lasts, and what it loses while nothing is attached.
//
//   E            = energy of the full battery, or capacity x voltage
//   P_lost       = E self-discharge / 1 year
//   battery_life = E / (P_average / efficiency + P_other + P_lost)
//   standby_loss_per_day = (P_standby / efficiency + P_lost) x 1 day / E
// P_average and P_standby are the port's, at its rail; P_other is what the rest of the product takes. The
// loss in standby is that of the port and of the battery alone, since the rest may be switched off. Worked
// example: a coin cell of 225 mAh at 3.0 V holds 2430 J and loses 1 % a year, 0.77 uW; 10 uW beside it empty
// it in 2611 days. The cell's figures are common practice [M]. Tested by tests/options/power/battery_test.cpp.
#include "figures/units/unit.hpp"
#include "options/power/power.hpp"

namespace portweigh::options {

using figures::Figure;
namespace dimensions = figures::dimensions;

namespace {

Figure full_energy(Draft& draft, const study::Battery& battery) {
  if (battery.energy) {
    return draft.input(*battery.energy);
  }
  return draft.name(draft.input(*battery.capacity) * draft.input(*battery.voltage), "battery_energy",
                    "energy of the full battery", "J");
}

}  // namespace

void add_battery(Draft& draft, const study::Battery& battery, const Power& power) {
  figures::Ledger& ledger = draft.ledger();
  const Figure energy = full_energy(draft, battery);
  const Figure year =
      ledger.constant(figures::to_si(1, figures::parse_unit("year")), dimensions::time, "a year");
  const Figure lost_w = draft.name(energy * draft.input(battery.self_discharge) / year,
                                   "battery_self_discharge", "what the battery loses by itself", "mW");
  const auto from_battery = [&](Figure power_w) {
    return battery.efficiency ? power_w / draft.input(*battery.efficiency) : power_w;
  };
  Figure drain_w = from_battery(power.average_w) + lost_w;
  if (battery.other_power) {
    drain_w = drain_w + draft.input(*battery.other_power);
  }
  draft.name(energy / drain_w, "battery_life", "time that a full battery lasts", "d");
  const Figure day = ledger.constant(86400, dimensions::time, "a day");
  draft.name((from_battery(power.standby_w) + lost_w) * day / energy, "standby_loss_per_day",
             "share of the battery lost a day with nothing attached", "%");
}

}  // namespace portweigh::options

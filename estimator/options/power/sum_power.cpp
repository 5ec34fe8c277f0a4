// Power by state, the averages over the use profile, and the junction temperature.
//
//   P(state)  = attached: activity P_busy + (1 - activity) (P_quiet + wakes E_attached)
//               detached: P_detached + other wake-ups E_detached
//   P_quiet   includes what running timers need, for as long as an answer may take after each
//               wake-up; beside a line that is busy they are part of the load
//   wakes     = activity x messages a second of a busy line + other wake-ups of the state. A message that follows
//               another without pause finds processor and fabric awake: hence (1 - activity)
//   average   = sum of share(state) P(state); the duty cycle is the share of the active state, the others keep
//               their proportions in what is left
//   T_J       = T_A + theta_JA P(busy) of each main part by what it draws itself, and what the others' power warms it by
//               through the board where the study says so; the warmest counts
#include <fmt/core.h>

#include <algorithm>

#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"
#include "options/firmware/event_rules.hpp"
#include "options/power/power.hpp"
#include "options/power/processor_modes.hpp"
#include "options/power/temperature.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;
namespace dimensions = figures::dimensions;

// Keys have no spaces.
std::string key_of(std::string text) {
  std::replace(text.begin(), text.end(), ' ', '_');
  return text;
}

// A second, each for itself if the line were quiet before.
Figure attached_wake_ups(Draft& draft, const study::PortState& state) {
  return draft.name(draft.input(state.line_activity) * message_rate(draft) + draft.input(state.wake_ups),
                    fmt::format("wake_ups.{}", state.name),
                    fmt::format("messages and other wake-ups, {}", state.name), "Hz");
}

Figure quiet_wake_ups(Draft& draft, Figure wakes_hz, const WakeUps& wakes) {
  const Figure handled_w = wakes_hz * wakes.attached_j;
  if (!wakes.ticking_w) return handled_w;
  figures::Ledger& ledger = draft.ledger();
  const Figure response = ledger.constant(draft.context.study.function.timing.response.value_si,
                                          dimensions::time, "longest time to answer");
  const Figure all = ledger.constant(1, dimensions::dimensionless, "all of the time");
  return handled_w + timers_run(wakes_hz, response, all) * *wakes.ticking_w;
}

Figure state_power(Draft& draft, const Drawn& drawn, const study::PortState& state) {
  const Figure activity = draft.input(state.line_activity);
  std::vector<Figure> parts;
  for (const PowerContribution& contribution : drawn.power) {
    const Figure power_w =
        state.is_attached ? mixed(activity, contribution.busy, contribution.quiet) : contribution.detached;
    parts.push_back(draft.name(power_w, key_of("state_power." + state.name + "." + contribution.name),
                               fmt::format("{}, {}", contribution.name, state.name), "mW"));
  }
  if (!drawn.wake_ups.empty()) {
    const Figure wakes_hz = state.is_attached ? attached_wake_ups(draft, state) : draft.input(state.wake_ups);
    for (const WakeUps& wakes : drawn.wake_ups) {
      const Figure power_w = state.is_attached ? (1.0 - activity) * quiet_wake_ups(draft, wakes_hz, wakes)
                                               : wakes_hz * wakes.detached_j;
      parts.push_back(draft.name(power_w, fmt::format("state_power.{}.wake_ups_{}", state.name, wakes.name),
                                 fmt::format("{}'s wake-ups, {}", wakes.name, state.name), "mW"));
    }
  }
  if (parts.empty()) parts.push_back(draft.zero(dimensions::power));
  return draft.name(figures::sum(parts), fmt::format("state_power.{}", state.name), "power, " + state.name,
                    "mW");
}

Figure average_power(Draft& draft, const std::vector<Figure>& by_state) {
  const auto& states = draft.context.study.states;
  const auto active =
      std::find_if(states.begin(), states.end(), [](const auto& state) { return state.is_active; });
  const Figure duty = draft.input(active->share);
  std::vector<Figure> shares;
  std::optional<Figure> others;
  for (const study::PortState& state : states) {
    if (state.is_active) {
      shares.push_back(duty);
      continue;
    }
    const Figure share = draft.input(state.share);
    shares.push_back(share);
    others = others ? *others + share : share;
  }
  Figure average = draft.zero(dimensions::power);
  for (std::size_t i = 0; i < states.size(); ++i) {
    const Figure share = states[i].is_active || !others ? shares[i] : (1.0 - duty) * shares[i] / *others;
    average = average + share * by_state[i];
  }
  return average;
}

// What the contributors draw in one chip while the line is busy.
Figure power_of(Draft& draft, const Drawn& drawn, const Chip& chip) {
  Figure total = draft.zero(dimensions::power);
  for (const PowerContribution& contribution : drawn.power) {
    if (chip.carries(contribution.heats)) total = total + contribution.busy;
  }
  return total;
}

// Air around each chip: the ambient, and what the board carries over from the other chips, if the study tells.
Figure surroundings_of(Draft& draft, std::size_t chip, const std::vector<Figure>& chip_w) {
  const Figure ambient = draft.input(draft.context.study.ambient);
  const auto& coupling = draft.context.study.assembly.thermal_coupling;
  if (!coupling || chip_w.size() < 2) return ambient;
  Figure others_w = draft.zero(dimensions::power);
  for (std::size_t i = 0; i < chip_w.size(); ++i) {
    if (i != chip) others_w = others_w + chip_w[i];
  }
  return ambient + draft.input(*coupling) * others_w;
}

// Largest thermal resistance with which the part settles, K/W.
double bearable_theta(LeakageValues values) {
  double low = 0;
  double high = values.thermal_resistance;
  while (high - low > 1e-3 * high) {
    values.thermal_resistance = (low + high) / 2;
    (settled_temperature_k(values) ? low : high) = values.thermal_resistance;
  }
  return low;
}

// High ends of leakage, heat path and ambient together: does the part settle at all? What it draws beside leakage,
// and what others heat it by, at typical values.
Impossible check_runaway(const Draft& draft, const Chip& chip, const Drawn& drawn, double warmed_k) {
  const auto* logic = std::get_if<const parts::ProgrammableLogic*>(&chip.device);
  if (logic == nullptr) return std::nullopt;
  double other_w = 0;
  for (const PowerContribution& contribution : drawn.power) {
    if (!chip.carries(contribution.heats) || contribution.name == "leakage") continue;
    other_w += figures::evaluate(draft.option.ledger, contribution.busy);
  }
  const parts::ProgrammableLogic& part = **logic;
  const study::Study& study = draft.context.study;
  const double theta = chip.package->thermal_resistance.range.high;
  const LeakageValues values{study.ambient.range.high + warmed_k,
                             theta,
                             other_w,
                             study.supply_voltage.range.high,
                             part.leakage_current.range.high,
                             part.leakage_doubling.range.low};
  if (settled_temperature_k(values)) return std::nullopt;
  const double bearable = bearable_theta(values);
  return Shortfall{fmt::format("thermal runaway: leakage of {} at 25 degC doubles each {:.0f} K and heats "
                               "through {:.0f} K/W, it settles with {:.1f} K/W at most",
                               figures::format_quantity(values.leakage_a, dimensions::current),
                               values.doubling_k, theta, bearable),
                   theta, bearable, "K/W"};
}

void name_junctions(Draft& draft, const std::vector<Chip>& chips, const std::vector<Figure>& chip_w) {
  Figure hottest = draft.input(draft.context.study.ambient);
  double limit_k = 0;
  for (std::size_t i = 0; i < chips.size(); ++i) {
    const Figure heated_k = draft.input(chips[i].package->thermal_resistance) * chip_w[i];
    const std::string& id = chips[i].part().id;
    hottest = maximum(hottest,
                      draft.name(surroundings_of(draft, i, chip_w) + heated_k, "junction_temperature." + id,
                                 fmt::format("junction temperature of {}, line busy", id), "degC"));
    const double highest_k = chips[i].part().highest_junction.value_si;
    limit_k = limit_k == 0 ? highest_k : std::min(limit_k, highest_k);
  }
  draft.name(hottest, "junction_temperature", "junction temperature, line busy", "degC");
  if (limit_k > 0)
    draft.option.implied_limits.push_back({"junction_temperature", limit_k, "highest junction temperature"});
}

Impossible add_heat(Draft& draft, const std::vector<Chip>& chips, const Drawn& drawn) {
  std::vector<Figure> chip_w;
  for (const Chip& chip : chips) chip_w.push_back(power_of(draft, drawn, chip));
  name_junctions(draft, chips, chip_w);
  for (std::size_t i = 0; i < chips.size(); ++i) {
    const double warmed_k = figures::evaluate(draft.ledger(), surroundings_of(draft, i, chip_w)) -
                            draft.context.study.ambient.range.typical;
    if (auto reason = check_runaway(draft, chips[i], drawn, warmed_k)) return reason;
  }
  return std::nullopt;
}

}  // namespace

Figure driven_edges_per_bit(Draft& draft) {
  return draft.counted("function.driven_edges_per_bit", "edges driven for each bit on the line",
                       figures::exactly(0.5 * mean_edges(draft.context.study.function)),
                       "line code on its own stream of random data, half of the messages sent");
}

Figure message_rate(Draft& draft) {
  const study::Timing& timing = draft.context.study.function.timing;
  const Figure one = draft.ledger().constant(1, dimensions::dimensionless, "one message");
  const Figure turn_round =
      draft.ledger().constant(timing.turn_round.value_si, dimensions::time, "turn-round of the function");
  return one / (draft.input(timing.message_bits) / draft.input(timing.bit_rate) + turn_round);
}

void add_contribution(Draft& draft, Drawn& drawn, const Contributor& who, Figure busy, Figure quiet,
                      Figure detached) {
  const auto named = [&](Figure figure, const char* mode, const char* label) {
    return draft.name(figure, fmt::format("power.{}.{}", who.key, mode),
                      fmt::format("{}, {}", who.label, label), "mW");
  };
  drawn.power.push_back({who.label, named(busy, "busy", who.busy_label),
                         named(quiet, "quiet", who.quiet_label), named(detached, "detached", "detached"),
                         who.heats});
}

OrShortfall<Power> sum_power_and_heat(Draft& draft, const Packaged& packaged, const Drawn& drawn) {
  std::vector<Figure> by_state;
  std::optional<Figure> standby;
  std::optional<Figure> peak;
  for (const study::PortState& state : draft.context.study.states) {
    const Figure power_w = state_power(draft, drawn, state);
    by_state.push_back(power_w);
    if (!state.is_attached && !standby) standby = power_w;
    if (state.is_active) draft.name(power_w, "active_power", "power while active", "mW");
    peak = peak ? maximum(*peak, power_w) : power_w;
  }
  draft.name(*peak, "peak_power", "highest power of any state", "mW");
  const Figure standby_w =
      draft.name(standby.value_or(by_state.front()), "standby_power", "power while detached", "mW");
  const Figure average = draft.name(average_power(draft, by_state), "average_power",
                                    "power averaged over the use profile", "mW");
  const Figure day = draft.ledger().constant(86400, dimensions::time, "a day");
  draft.name(average * day, "energy_per_day", "energy a day", "J");
  if (auto reason = add_heat(draft, packaged.chips, drawn)) return std::move(*reason);
  return Power{average, standby_w};
}

}  // namespace portweigh::options

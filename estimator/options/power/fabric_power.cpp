// What a programmable-logic device draws, by contributor and mode.
//
// Core currents come from the supply through a linear regulator, so that a core watt costs V_supply / V_core:
//   leakage     V_s I_leak 2^((T - 25 degC) / T_double)
//   clock tree  f (E_trunk + registers E_register) V_s / V_core
//   toggling    (f quiet toggles + sum of r event toggles) E_toggle V_s / V_core
//   RAM         (f quiet accesses + sum of r event accesses) E_ram V_s / V_core
//               r: events a second of each block while the line is busy, as firmware has them; counts simulated
//   pins        1/2 C V_s^2 x edges a second
//   oscillator, bias, comparators: V_s I
// With an external core rail the ratio is one over its converter's efficiency, taken as that of a linear one.
// Source of the form: P = alpha C V^2 f + I V, Weste & Harris, CMOS VLSI Design. Idle and detached modes use
// the activity simulated without traffic; detached, clocks stand still, and with a cable attached and the line quiet
// where fabric_modes.hpp lets them.
#include <fmt/core.h>

#include <algorithm>

#include "options/firmware/event_rules.hpp"
#include "options/power/fabric_modes.hpp"
#include "options/power/power.hpp"
#include "options/power/temperature.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

struct FabricInputs {
  Drawn& drawn;
  const parts::ProgrammableLogic& part;
  Figure supply_v;
  Figure core_ratio;  // supply watts for each core watt
  Figure clock_hz;
  bool stops_while_quiet;
  std::vector<Figure>
      running_w;  // what each contributor draws more with clocks running than with them stopped
};

// Counts of one clock domain with the spread of each block's class.
struct Activity {
  Figure registers;
  Figure quiet_toggles;     // in a clock
  Figure quiet_accesses;    // in a clock
  Figure event_toggles_hz;  // of the events of a busy line
  Figure event_accesses_hz;
};

// What is busy with the line: its bits and messages, and how often a processor's clock brings an event.
struct BusyLine {
  Figure bit_rate;
  Figure message_rate;
  Figure busy_clock_hz;
};

// Blocks that an option adds for its link have an event for each byte of a message that crosses it.
BusyRate rate_of(const Draft& draft, const Placed& placed, const FabricBlock& block, blocks::Event event) {
  const study::PortFunction& function = draft.context.study.function;
  for (const study::FunctionBlock& own : function.blocks) {
    if (own.name == block.name) return busy_rate(function, own, event);
  }
  return {.per_message = placed.link ? placed.link->bytes_per_message : 0};
}

Figure event_rate(Draft& draft, const Placed& placed, const FabricBlock& block, blocks::Event event,
                  const BusyLine& line) {
  const std::string key = fmt::format("rates.{}", block.name);
  const std::string label = fmt::format("{}: {}s a second, line busy", block.name, blocks::name_of(event));
  if (event == blocks::Event::clock) return draft.name(line.busy_clock_hz * 1.0, key, label, "kHz");
  const BusyRate rate = rate_of(draft, placed, block, event);
  const Figure steady = draft.ledger().constant(rate.per_second_hz, dimensions::frequency, "timer ticks");
  return draft.name(rate.per_bit * line.bit_rate + rate.per_message * line.message_rate + steady, key, label,
                    "kHz");
}

Activity sum_activity(Draft& draft, const Placed& placed, const std::vector<FabricBlock>& blocks,
                      bool processor_domain, const BusyLine& line) {
  const Figure none = draft.zero(dimensions::dimensionless);
  const Figure never = draft.zero(dimensions::frequency);
  Activity sum{none, none, none, never, never};
  for (const FabricBlock& block : blocks) {
    if (block.runs_on_processor_clock != processor_domain || block.figures->count.cells == 0) continue;
    const logic::FabricCount& covered = block.figures->count;
    const SwitchingFigures& switching =
        draft.context.library.switching(block.use, traits_of(*draft.candidate.logic()));
    const Figure spread = spread_of(draft, *block.use.kind);
    const auto count = [&](std::string_view what, std::string_view label, double value,
                           std::string_view source) {
      return draft.counted(fmt::format("counts.{}.{}", block.name, what),
                           fmt::format("{}: {}", block.name, label), exactly(value), source);
    };
    const Figure rate = event_rate(draft, placed, block, switching.event, line);
    sum.registers =
        sum.registers + count("registers", "registers", covered.registers, "covering run") * spread;
    sum.quiet_toggles = sum.quiet_toggles + count("quiet_toggles", "toggles in a clock, line quiet",
                                                  switching.quiet_toggles, "simulation without traffic") *
                                                spread;
    sum.event_toggles_hz =
        sum.event_toggles_hz +
        rate *
            count("event_toggles", fmt::format("toggles of a {}", blocks::name_of(switching.event)),
                  switching.event_toggles, "simulation of framed traffic, glitches counted") *
            spread;
    if (covered.ram_bits == 0) continue;
    sum.quiet_accesses =
        sum.quiet_accesses + count("quiet_ram_accesses", "RAM accesses in a clock, line quiet",
                                   switching.quiet_ram_accesses, "simulation without traffic");
    sum.event_accesses_hz =
        sum.event_accesses_hz +
        rate * count("event_ram_accesses",
                     fmt::format("RAM accesses of a {}", blocks::name_of(switching.event)),
                     switching.event_ram_accesses, "simulation of framed traffic");
  }
  return sum;
}

// Busy and quiet: with clocks running.
void add(Draft& draft, FabricInputs& in, std::string_view key, std::string_view label, Figure busy,
         Figure quiet, Figure stopped) {
  const char* quiet_label = in.stops_while_quiet ? "line quiet, clocks stopped" : "line quiet";
  add_contribution(draft, in.drawn,
                   {std::string(key), std::string(label), "line busy", quiet_label, EngineKind::fabric}, busy,
                   in.stops_while_quiet ? stopped : quiet, stopped);
  in.running_w.push_back(quiet - stopped);
}

void add_domain(Draft& draft, FabricInputs& in, std::string_view prefix, std::string_view label,
                Figure clock_hz, const Activity& activity, bool has_trunk) {
  const parts::ProgrammableLogic& part = in.part;
  const Figure none = draft.zero(dimensions::power);
  const Figure toggle = draft.input(part.toggle_energy);
  const Figure register_energy = draft.input(part.clock_register_energy);
  Figure tree = activity.registers * register_energy;
  if (has_trunk) tree = tree + draft.input(part.clock_trunk_energy);
  const Figure tree_w = clock_hz * tree * in.core_ratio;
  add(draft, in, fmt::format("{}clock_tree", prefix), fmt::format("{}clock tree", label), tree_w, tree_w,
      none);
  const auto toggling_w = [&](Figure toggles_hz) { return toggles_hz * toggle * in.core_ratio; };
  const Figure quiet_hz = clock_hz * activity.quiet_toggles;
  add(draft, in, fmt::format("{}toggling", prefix), fmt::format("{}toggling", label),
      toggling_w(quiet_hz + activity.event_toggles_hz), toggling_w(quiet_hz), none);
  const Figure ram = draft.input(part.ram_access_energy);
  const auto ram_w = [&](Figure accesses_hz) { return accesses_hz * ram * in.core_ratio; };
  const Figure quiet_accesses_hz = clock_hz * activity.quiet_accesses;
  add(draft, in, fmt::format("{}ram", prefix), fmt::format("{}RAM", label),
      ram_w(quiet_accesses_hz + activity.event_accesses_hz), ram_w(quiet_accesses_hz), none);
}

void add_bias(Draft& draft, FabricInputs& in) {
  const parts::ProgrammableLogic& part = in.part;
  const Figure none = draft.zero(dimensions::power);
  const Figure bias_w = in.supply_v * draft.input(part.bias_current);
  add(draft, in, "bias", "bias", bias_w, bias_w, part.standby_current ? none : bias_w);
  if (part.oscillator_frequency) {
    const Figure oscillator_w = in.supply_v * draft.input(part.oscillator_current);
    add(draft, in, "oscillator", "oscillator", oscillator_w, oscillator_w, none);
  }
}

// Last, since it grows with the heat of all the others.
void add_leakage(Draft& draft, FabricInputs& in, const Packaged& packaged) {
  const parts::ProgrammableLogic& part = in.part;
  const auto has_fabric = [](const Chip& chip) { return chip.carries(EngineKind::fabric); };
  const parts::Package* package =
      std::find_if(packaged.chips.begin(), packaged.chips.end(), has_fabric)->package;
  Figure other_w = draft.zero(dimensions::power);
  for (const PowerContribution& contribution : in.drawn.power) other_w = other_w + contribution.busy;
  const Figure ambient = draft.input(draft.context.study.ambient);
  const Figure doubling = draft.input(part.leakage_doubling);
  const Figure leak = draft.input(part.leakage_current);
  const Figure hot_w = settled_leakage_w(draft.ledger(), {ambient, draft.input(package->thermal_resistance),
                                                          other_w, in.supply_v, leak, doubling});
  const Figure growth = leakage_growth(ambient, leakage_reference(draft.ledger()), doubling);
  const Figure none = draft.zero(dimensions::power);
  if (part.standby_current) {
    const Figure standby = draft.input(*part.standby_current);
    add(draft, in, "leakage", "leakage", hot_w, hot_w, none);
    add(draft, in, "standby", "standby", none, none, in.supply_v * standby * growth);
  } else {
    add(draft, in, "leakage", "leakage", hot_w, hot_w, in.supply_v * leak * growth);
  }
}

void add_pins(Draft& draft, FabricInputs& in) {
  const study::Timing& timing = draft.context.study.function.timing;
  const Figure capacitance = draft.input(in.part.pin_capacitance);
  const Figure rate = draft.input(timing.bit_rate);
  const Figure edges = driven_edges_per_bit(draft);
  const Figure none = draft.zero(dimensions::power);
  add(draft, in, "pins", "pins", 0.5 * capacitance * power(in.supply_v, 2.0) * edges * rate, none, none);
}

void add_waking(Draft& draft, const FabricInputs& in) {
  if (!in.part.wake_up) return;
  const Figure response = draft.ledger().constant(draft.context.study.function.timing.response.value_si,
                                                  dimensions::time, "longest time to answer");
  const Figure wake_s = draft.input(*in.part.wake_up);
  const Figure running_w = draft.name(figures::sum(in.running_w), "fabric_running",
                                      "fabric, added by running clocks, line quiet", "mW");
  const Figure energy = draft.name(running_w * awake_for_event(wake_s, response), "fabric_wake_up_energy",
                                   "energy of a wake-up of the fabric, detached", "uJ");
  if (in.stops_while_quiet) {
    in.drawn.wake_ups.push_back({"fabric", running_w * wake_s, energy, running_w});
  } else {
    in.drawn.wake_ups.push_back({"fabric", draft.zero(dimensions::energy), energy});
  }
}

}  // namespace

void add_fabric_power(Draft& draft, const Placed& placed, const Packaged& packaged, const Cells& cells,
                      Drawn& drawn) {
  if (!cells.clock_hz) return;
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  const Figure supply = draft.input(draft.context.study.supply_voltage);
  const Figure core = draft.input(part.core_voltage);
  const Figure ratio = draft.name(supply / core, "core_ratio", "supply watts for each core watt", "1");
  const study::PortFunction& function = draft.context.study.function;
  const QuietClocks clocks = quiet_clocks(part, function, draft.candidate.engine_of_block);
  draft.option.notes.push_back(describe(clocks, part, function));
  FabricInputs in{drawn, part, supply, ratio, *cells.clock_hz, clocks == QuietClocks::stopped, {}};
  add_bias(draft, in);
  BusyLine line{draft.input(function.timing.bit_rate), message_rate(draft), in.clock_hz};
  add_domain(draft, in, "", "", in.clock_hz, sum_activity(draft, placed, cells.blocks, false, line), true);
  if (const Firmware* soft = placed.firmware_on(EngineKind::soft_processor)) {
    const Schedule& schedule = soft->schedule;
    const Figure clock = draft.counted("soft_clock_rate", "clock of the soft processor",
                                       exactly(schedule.clock_hz.value_or(0)), soft->clock_choice, "MHz");
    line.busy_clock_hz =
        draft.executed("counts.soft_busy_cycles", "soft processor: cycles a second, line busy",
                       schedule.busy_hz, "soft processor", "executed routines", "MHz") +
        draft.executed("counts.soft_attached_cycles", "soft processor: cycles a second of timers, line busy",
                       schedule.attached_hz, "soft processor", "executed routines", "MHz");
    draft.name(line.busy_clock_hz / clock, "soft_load", "load of the soft processor", "%");
    add_domain(draft, in, "soft_processor_", "soft processor ", clock,
               sum_activity(draft, placed, cells.blocks, true, line), false);
  }
  add_pins(draft, in);
  add_leakage(draft, in, packaged);
  add_waking(draft, in);
}

}  // namespace portweigh::options

// What a programmable-logic device draws, by contributor and mode.
//
// Core currents come from the supply through a linear regulator, so that a core watt costs V_supply / V_core:
//   leakage     V_s I_leak 2^((T - 25 degC) / T_double)
//   clock tree  f (E_trunk + registers E_register) V_s / V_core
//   toggling    f toggles E_toggle V_s / V_core        toggles: simulated, in a clock
//   RAM         f accesses E_ram V_s / V_core
//   pins        1/2 C V_s^2 x edges a second
//   oscillator, bias, comparators: V_s I
// With an external core rail the ratio is one over its converter's efficiency, taken as that of a linear one.
// Source of the form: P = alpha C V^2 f + I V, Weste & Harris, CMOS VLSI Design. Idle and detached modes use
// the activity simulated without traffic; detached, clocks stand still.
#include <fmt/core.h>

#include <algorithm>

#include "options/power/power.hpp"
#include "options/power/processor_modes.hpp"
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
};

// Counts of one clock domain with the spread of each block's class: registers, toggles, RAM accesses in a
// clock.
struct Activity {
  Figure registers;
  Figure busy_toggles;
  Figure quiet_toggles;
  Figure busy_accesses;
  Figure quiet_accesses;
};

Activity sum_activity(Draft& draft, const std::vector<FabricBlock>& blocks, bool processor_domain) {
  const Figure none = draft.zero(dimensions::dimensionless);
  Activity sum{none, none, none, none, none};
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
    sum.registers =
        sum.registers + count("registers", "registers", covered.registers, "covering run") * spread;
    sum.busy_toggles = sum.busy_toggles + count("busy_toggles", "toggles in a clock, line busy",
                                                switching.busy_toggles, "simulation of framed traffic") *
                                              spread;
    sum.quiet_toggles = sum.quiet_toggles + count("quiet_toggles", "toggles in a clock, line quiet",
                                                  switching.quiet_toggles, "simulation without traffic") *
                                                spread;
    if (covered.ram_bits == 0) continue;
    sum.busy_accesses =
        sum.busy_accesses + count("busy_ram_accesses", "RAM accesses in a clock, line busy",
                                  switching.busy_ram_accesses, "simulation of framed traffic");
    sum.quiet_accesses =
        sum.quiet_accesses + count("quiet_ram_accesses", "RAM accesses in a clock, line quiet",
                                   switching.quiet_ram_accesses, "simulation without traffic");
  }
  return sum;
}

void add(Draft& draft, const FabricInputs& in, std::string_view key, std::string_view label, Figure busy,
         Figure quiet, Figure detached) {
  add_contribution(draft, in.drawn, {std::string(key), std::string(label), "line busy", "line quiet"}, busy,
                   quiet, detached);
}

void add_domain(Draft& draft, const FabricInputs& in, std::string_view prefix, std::string_view label,
                Figure clock_hz, Figure busy_share, const Activity& activity, bool has_trunk) {
  const parts::ProgrammableLogic& part = in.part;
  const Figure none = draft.zero(dimensions::power);
  const Figure toggle = draft.input(part.toggle_energy);
  const Figure register_energy = draft.input(part.clock_register_energy);
  Figure tree = activity.registers * register_energy;
  if (has_trunk) tree = tree + draft.input(part.clock_trunk_energy);
  const Figure tree_w = clock_hz * tree * in.core_ratio;
  add(draft, in, fmt::format("{}clock_tree", prefix), fmt::format("{}clock tree", label), tree_w, tree_w,
      none);
  const auto toggling_w = [&](Figure toggles) { return clock_hz * toggles * toggle * in.core_ratio; };
  add(draft, in, fmt::format("{}toggling", prefix), fmt::format("{}toggling", label),
      toggling_w(mixed(busy_share, activity.busy_toggles, activity.quiet_toggles)),
      toggling_w(activity.quiet_toggles), none);
  const Figure ram = draft.input(part.ram_access_energy);
  const auto ram_w = [&](Figure accesses) { return clock_hz * accesses * ram * in.core_ratio; };
  add(draft, in, fmt::format("{}ram", prefix), fmt::format("{}RAM", label),
      ram_w(mixed(busy_share, activity.busy_accesses, activity.quiet_accesses)),
      ram_w(activity.quiet_accesses), none);
}

void add_bias(Draft& draft, const FabricInputs& in) {
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
void add_leakage(Draft& draft, const FabricInputs& in, const Packaged& packaged) {
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

// Half of the time this side drives the line.
double driven_edges_per_bit(const study::PortFunction& function) {
  for (const study::FunctionBlock& block : function.blocks) {
    if (block.kind->line) return 0.5 * block.kind->line(block.settings).mean_edges;
  }
  return 0;
}

void add_pins(Draft& draft, const FabricInputs& in) {
  const study::Timing& timing = draft.context.study.function.timing;
  const Figure capacitance = draft.input(in.part.pin_capacitance);
  const Figure rate = draft.input(timing.bit_rate);
  const Figure edges = draft.counted("function.driven_edges_per_bit", "edges driven for each bit on the line",
                                     exactly(driven_edges_per_bit(draft.context.study.function)),
                                     "line code on random data, half of the messages sent");
  const Figure none = draft.zero(dimensions::power);
  add(draft, in, "pins", "pins", 0.5 * capacitance * power(in.supply_v, 2.0) * edges * rate, none, none);
}

}  // namespace

void add_fabric_power(Draft& draft, const Placed& placed, const Packaged& packaged, const Cells& cells,
                      Drawn& drawn) {
  if (!cells.clock_hz) return;
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  const Figure supply = draft.input(draft.context.study.supply_voltage);
  const Figure core = draft.input(part.core_voltage);
  const Figure ratio = draft.name(supply / core, "core_ratio", "supply watts for each core watt", "1");
  const FabricInputs in{drawn, part, supply, ratio, *cells.clock_hz};
  add_bias(draft, in);
  const Figure one = draft.ledger().constant(1, dimensions::dimensionless, "all of the time");
  add_domain(draft, in, "", "", in.clock_hz, one, sum_activity(draft, cells.blocks, false), true);
  if (const Firmware* soft = placed.firmware_on(EngineKind::soft_processor)) {
    const Schedule& schedule = soft->schedule;
    const Figure clock = draft.counted("soft_clock_rate", "clock of the soft processor",
                                       exactly(schedule.clock_hz.value_or(0)),
                                       "lowest clock setting that meets every deadline", "MHz");
    const Figure load =
        draft.executed("counts.soft_busy_cycles", "soft processor: cycles a second, line busy",
                       schedule.busy_hz, "soft processor", "executed routines", "MHz") /
        clock;
    add_domain(draft, in, "soft_processor_", "soft processor ", clock,
               draft.name(load, "soft_load", "load of the soft processor", "%"),
               sum_activity(draft, cells.blocks, true), false);
  }
  add_pins(draft, in);
  add_leakage(draft, in, packaged);
}

}  // namespace portweigh::options

// What a microcontroller draws, as figures; the formulas stand in processor_modes.hpp. The load comes from
// the executed routines.
#include <fmt/core.h>

#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"
#include "options/power/power.hpp"
#include "options/power/processor_modes.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

// Beside a fabric the option's clock is the fabric's.
Figure name_clock(Draft& draft, const Firmware& firmware) {
  const bool is_beside_fabric = draft.candidate.logic() != nullptr;
  return draft.counted(is_beside_fabric ? "processor_clock" : "clock_rate", "clock of the microcontroller",
                       exactly(firmware.schedule.clock_hz.value_or(0)), firmware.clock_choice, "MHz");
}

void note_what_sleep_saves(Draft& draft, Figure awake_w, Figure sleeping_w) {
  const auto text = [&](Figure figure) {
    return figures::format_quantity(figures::evaluate(draft.ledger(), figure), dimensions::power);
  };
  draft.option.notes.push_back(
      fmt::format("processor awake while bits are on the line: {}; asleep between events it would take {}",
                  text(awake_w), text(sleeping_w)));
}

}  // namespace

void add_processor_power(Draft& draft, const Firmware& firmware, Drawn& drawn) {
  const parts::Microcontroller& part = *draft.candidate.microcontroller();
  const study::Study& study = draft.context.study;
  const Schedule& schedule = firmware.schedule;
  const Figure clock = name_clock(draft, firmware);
  // The ranges are those of memory that never waits, the same at every clock.
  const WithoutWaits& load = schedule.without_waits;
  const Figure cycles =
      schedule.load_stretch * draft.executed("counts.busy_cycles",
                                             "cycles a second without wait states, line busy", load.busy_hz,
                                             part.core, "executed routines", "MHz") +
      schedule.wait_stretch * draft.executed("counts.attached_cycles",
                                             "cycles a second of timers without wait states, attached",
                                             load.attached_hz, part.core, "executed routines", "MHz");
  const Figure handler = draft.counted("counts.wake_up_cycles", "cycles of one wake-up",
                                       exactly(schedule.wake_up_cycles), "executed routines");
  const Figure tick = draft.counted("counts.tick_cycles", "cycles of one tick of the timers",
                                    exactly(schedule.tick_cycles), "executed routines");
  const Figure tick_hz =
      draft.ledger().constant(schedule.tick_hz, dimensions::frequency, "ticks of the timers");
  const Workload<Figure> work{clock,
                              cycles,
                              handler,
                              tick,
                              tick_hz,
                              schedule.runs_while_quiet,
                              draft.ledger().constant(1, dimensions::dimensionless, "all of the time"),
                              leakage_reference(draft.ledger())};
  const auto modes = processor_modes(part, firmware.operating_point, study, work,
                                     [&](const parts::SourcedRange& value) { return draft.input(value); });
  draft.name(modes.run_a, "run_current", "running current", "mA");
  draft.name(modes.sleep_a, "sleep_current", "sleeping current", "mA");
  draft.name(modes.stop_a, "stopped_current", "stopped current", "uA");
  draft.name(modes.load, "processor_load", "processor load, line busy", "%");
  draft.name(modes.sleeping_w, "power.processor.sleeping_between_events",
             "processor, line busy, if it slept between events", "mW");
  const bool is_awake = study.while_line_busy == study::WhileLineBusy::awake;
  if (is_awake) note_what_sleep_saves(draft, modes.awake_w, modes.sleeping_w);
  if (schedule.runs_while_quiet) {
    draft.option.notes.push_back(fmt::format(
        "{} keeps its clock running while attached: outputs of its blocks need it", part.part.id));
  } else if (!wakes_within_preamble(part.wake_up, study.function.timing)) {
    draft.option.notes.push_back(
        fmt::format("{} wakes up too slowly to stop while attached ({})", part.part.id,
                    figures::format_quantity(part.wake_up.range.high, dimensions::time)));
  }
  add_contribution(draft, drawn, {"processor", "processor", "busy", "quiet", EngineKind::microcontroller},
                   is_awake ? modes.awake_w : modes.sleeping_w, modes.quiet_w, modes.stopped_w);
  drawn.wake_ups.push_back(
      {"processor",
       draft.name(modes.quiet_wake_up_j, "processor_wake_up_energy", "energy of a wake-up, line quiet", "uJ"),
       draft.name(modes.wake_up_j, "processor_detached_wake_up_energy", "energy of a wake-up, detached",
                  "uJ"),
       draft.name(modes.ticking_w, "processor_ticking",
                  "processor, line quiet, added by ticks while timers run", "mW")});
}

}  // namespace portweigh::options

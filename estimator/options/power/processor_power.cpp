// What a microcontroller draws.
//
//   line busy:   V (I_run f + I_run0): the main loop watches its queues while bits are on the line, common
//                practice; or, if the study says that the firmware sleeps between events,
//                V (load (I_run f + I_run0) + (1 - load) (I_sleep f + I_sleep0)),  load = cycles a second / f
//   line quiet:  V I_stop where the part wakes within the preamble of a message, otherwise asleep, clock on
//   detached:    V I_stop
//   wake-up:     V (I_run f + I_run0) (wake-up time + handler / f), each
// Currents are those of the core voltage chosen with the clock (operating_point.hpp). The load comes from the
// executed routines; comparators stay on while attached, and to sense a cable.
#include <fmt/core.h>

#include <numbers>

#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"
#include "options/draft.hpp"
#include "options/limits.hpp"
#include "options/power/operating_point.hpp"
#include "options/power/processor_modes.hpp"
#include "options/power/temperature.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

Figure of_part(Draft& draft, std::string_view field, std::string_view label,
               const parts::SourcedRange& range) {
  const std::string& id = draft.candidate.microcontroller->part.id;
  return draft.input(fmt::format("parts.{}.{}", id, field), label, range, fmt::format("process of {}", id));
}

struct Modes {
  Figure run_a;
  Figure sleep_a;
  Figure stop_a;
};

Modes mode_currents(Draft& draft, Figure clock) {
  const parts::Microcontroller& part = *draft.candidate.microcontroller;
  const PointFigures point = point_figures(draft, part, draft.operating_point);
  Figure run =
      point.run_a_per_hz * clock +
      of_part(draft, "run_base_current", "running current beside the clock's", part.run_base_current);
  Figure sleep =
      point.sleep_a_per_hz * clock +
      of_part(draft, "sleep_base_current", "sleeping current beside the clock's", part.sleep_base_current);
  if (point.added_a) {
    run = run + *point.added_a;
    sleep = sleep + *point.added_a;
  }
  const Figure ambient =
      draft.input(std::string(ambient_key), "ambient temperature", draft.context.study.ambient);
  const Figure stop =
      of_part(draft, "stop_current", "stopped current at 25 degC", part.stop_current) *
      leakage_growth(draft.ledger(), ambient,
                     of_part(draft, "stop_doubling", "temperature step that doubles it", part.stop_doubling));
  return {draft.name(run, "run_current", "running current", "mA"),
          draft.name(sleep, "sleep_current", "sleeping current", "mA"),
          draft.name(stop, "stopped_current", "stopped current", "uA")};
}

void name_clock(Draft& draft, const Schedule& schedule) {
  const Figure clock = draft.counted("clock_rate", "clock of the microcontroller",
                                     exactly(schedule.clock_hz.value_or(0)), draft.clock_choice, "MHz");
  const Figure required =
      draft.executed("required_clock", "clock that meets every deadline", schedule.required_hz,
                     draft.candidate.microcontroller->core,
                     fmt::format("response-time analysis; set by {}", describe_limit(schedule)), "MHz");
  draft.name(required / clock, "clock_use", "clock needed, of the clock given", "%");
  draft.option.implied_limits.push_back({"clock_use", 1.0, "clock that meets every deadline"});
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

void add_processor_power(Draft& draft) {
  if (draft.candidate.microcontroller == nullptr) return;
  const parts::Microcontroller& part = *draft.candidate.microcontroller;
  const Schedule& schedule = *draft.core_schedule;
  if (draft.candidate.logic == nullptr) name_clock(draft, schedule);
  const Figure clock = draft.candidate.logic == nullptr
                           ? draft.ledger().at("clock_rate")
                           : draft.counted("processor_clock", "clock of the microcontroller",
                                           exactly(schedule.clock_hz.value_or(0)), draft.clock_choice, "MHz");
  const Figure supply =
      draft.input("study.supply_voltage", "supply of the port's silicon", draft.context.study.supply_voltage);
  const Modes modes = mode_currents(draft, clock);
  const Figure one = draft.ledger().constant(1, dimensions::dimensionless, "all of the time");
  const Figure cycles = draft.executed("counts.busy_cycles", "cycles a second, line busy", schedule.busy_hz,
                                       part.core, "executed routines", "MHz") +
                        draft.executed("counts.attached_cycles", "cycles a second of timers, attached",
                                       schedule.attached_hz, part.core, "executed routines", "MHz");
  const Figure load =
      draft.name(minimum(cycles / clock, one), "processor_load", "processor load, line busy", "%");
  const Figure awake_w = supply * modes.run_a;
  const Figure sleeping_w = draft.name(supply * (load * modes.run_a + (1.0 - load) * modes.sleep_a),
                                       "power.processor.sleeping_between_events",
                                       "processor, line busy, if it slept between events", "mW");
  const bool is_awake = draft.context.study.while_line_busy == study::WhileLineBusy::awake;
  const Figure busy_w = is_awake ? awake_w : sleeping_w;
  if (is_awake) note_what_sleep_saves(draft, awake_w, sleeping_w);
  const bool can_stop = wakes_within_preamble(part, draft.context.study.function.timing);
  const Figure quiet_w = supply * (can_stop ? modes.stop_a : modes.sleep_a);
  const Figure stop_w = supply * modes.stop_a;
  if (!can_stop) {
    draft.option.notes.push_back(
        fmt::format("{} wakes up too slowly to stop while attached ({})", part.part.id,
                    figures::format_quantity(part.wake_up.range.high, dimensions::time)));
  }
  const auto named = [&](Figure figure, std::string_view mode) {
    return draft.name(figure, fmt::format("power.processor.{}", mode), fmt::format("processor, {}", mode),
                      "mW");
  };
  draft.power.push_back(
      {"processor", named(busy_w, "busy"), named(quiet_w, "quiet"), named(stop_w, "detached"), true});
  const Figure handler = draft.counted("counts.wake_up_cycles", "cycles of one wake-up",
                                       exactly(schedule.wake_up_cycles), "executed routines");
  draft.wake_up_energy.push_back(draft.name(
      supply * modes.run_a * (of_part(draft, "wake_up", "wake-up time", part.wake_up) + handler / clock),
      "processor_wake_up_energy", "energy of a wake-up", "uJ"));
}

}  // namespace portweigh::options

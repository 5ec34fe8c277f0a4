#include "blocks/pins/timer_bank.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <random>
#include <utility>

#include "blocks/event_recorder.hpp"
#include "blocks/random_traffic.hpp"
#include "blocks/sized_variables.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

std::vector<Setting> timer_bank_settings() {
  return {
      {"timers", "timers that can run at the same time", IntegerDomain{1, 8, 32}},
      {"bits", "bits of each timer", IntegerDomain{1, 16, 32}},
      {"prescaler_bits", "one tick in 2^prescaler_bits clocks", IntegerDomain{0, 8, 24}},
  };
}

TimerBankShape shape_of(const Settings& settings) {
  return {.timers = static_cast<unsigned>(settings.integer("timers")),
          .bits = static_cast<unsigned>(settings.integer("bits")),
          .prescaler_bits = static_cast<unsigned>(settings.integer("prescaler_bits"))};
}

// True for one clock in 2^bits of the enabled ones.
Bit add_prescaler(Bit reset, Bit enable, unsigned bits) {
  if (bits == 0) return enable;
  Network& network = reset.network();
  const Word count = logic::add_registers(network, "prescaler", bits);
  logic::connect(count, count + 1U, {.enable = enable, .reset = reset});
  return logic::registered("tick", enable & logic::all(count), {.enable = std::nullopt, .reset = reset});
}

struct TimerInputs {
  Bit reset;
  Bit tick;
  Bit start;
  Bit stop;
  Word value;
};

void add_timer(const TimerInputs& in, unsigned index) {
  Network& network = in.reset.network();
  const Word count = logic::add_registers(network, fmt::format("count{}", index), in.value.size());
  const Bit running = logic::add_register(network, fmt::format("timer_running{}", index));
  const Bit expired = logic::add_register(network, fmt::format("timer_expired{}", index));
  const Bit counts = in.tick & running;
  const Bit expires = counts & (count == 1U);
  const Bit ends = in.stop | expires;
  // Written `count - 1`; in a bank of loadable timers synthesis keeps the prefix form that it starts from (15
  // of 16 banks of 1 to 8 timers with 12 to 32 bits), where it makes counters elsewhere ripple.
  logic::connect(count, logic::select(in.start, in.value, logic::decremented(count)),
                 {.enable = in.start | counts, .reset = {}});
  logic::connect(running, in.start, {.enable = in.start | ends, .reset = in.reset});
  logic::connect(expired, ~in.start & ~in.stop, {.enable = in.start | ends, .reset = in.reset});
  logic::add_output(running, fmt::format("running[{}]", index));
  logic::add_output(expired, fmt::format("expired[{}]", index));
}

// Idle: nothing runs and the prescaler stands. Active: every timer is started now and then with any value.
Drive timer_bank_traffic(const Settings& /*settings*/, TrafficState state, std::uint64_t seed) {
  struct Inputs {
    std::mt19937_64 random;
    RandomInput start{"start"};
    RandomInput stop{"stop"};
    RandomInput value{"load_value"};
  };
  auto inputs = std::make_shared<Inputs>();
  inputs->random.seed(seed);
  return [state, inputs](logic::Simulator& simulator, std::uint64_t clock) {
    const bool is_active = state == TrafficState::active;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_active ? 1 : 0);
    if (!is_active) return;
    inputs->start.set_rare(simulator, inputs->random, 10);
    inputs->stop.set_rare(simulator, inputs->random, 12);
    if (clock % 64 == 0) inputs->value.set(simulator, inputs->random);
  };
}

// Half of the events start or stop a timer, the others come at the deadline that was set.
FirmwareRun next_deadline_run(const TimerBankShape& shape) {
  EventRecorder recorder(next_deadline_routine(shape));
  const auto mask = static_cast<std::uint32_t>((std::uint64_t{1} << variable_bits(shape.bits)) - 1);
  const std::uint64_t longest = std::min<std::uint64_t>(100, (std::uint64_t{1} << shape.bits) - 1);
  std::mt19937_64 random(1);
  std::uint32_t now = 0;
  std::uint32_t deadline = 0;
  recorder.machine().on_read("time", [&] { return now; });
  recorder.machine().on_write("compare", [&](std::uint32_t value) { deadline = value; });
  for (unsigned event = 0; event < 2000; ++event) {
    const std::uint32_t left = (deadline - now) & mask;
    if (random() % 2 == 0) {
      now = deadline;
      recorder.run({shape.timers, 0});
      continue;
    }
    now = (now + std::min(left, static_cast<std::uint32_t>(random() % 8))) & mask;
    const auto value = static_cast<std::uint32_t>(random() % 3 == 0 ? 0 : 1 + random() % longest);
    recorder.run({static_cast<std::uint32_t>(random() % shape.timers), value});
  }
  recorder.machine().on_read("time", {});
  recorder.machine().on_write("compare", {});
  return std::move(recorder).finish();
}

// Timers are started again a few ticks after they have expired, with up to 100 ticks to run.
FirmwareRun timer_bank_run(const Settings& settings, std::string_view method) {
  const TimerBankShape shape = shape_of(settings);
  if (method == "next-deadline") return next_deadline_run(shape);
  EventRecorder recorder(timer_bank_routine(shape));
  const std::uint64_t longest = std::min<std::uint64_t>(100, (std::uint64_t{1} << shape.bits) - 1);
  std::mt19937_64 random(1);
  for (unsigned tick = 0; tick < 2000; ++tick) {
    for (unsigned timer = 0; timer < shape.timers; ++timer) {
      const bool is_started = recorder.machine().element("timers", timer) == 0 && random() % 4 == 0;
      if (is_started) {
        recorder.machine().set_element("timers", timer, static_cast<std::uint32_t>(1 + random() % longest));
      }
    }
    recorder.run();
  }
  return std::move(recorder).finish();
}

}  // namespace

Network timer_bank_network(const TimerBankShape& shape) {
  Network network;
  const Bit reset = logic::add_input(network, "reset");
  const Bit enable = logic::add_input(network, "enable");
  const Word start = logic::add_input_word(network, "start", shape.timers);
  const Word stop = logic::add_input_word(network, "stop", shape.timers);
  const Word value = logic::add_input_word(network, "load_value", shape.bits);
  const Bit tick = add_prescaler(reset, enable, shape.prescaler_bits);
  for (unsigned i = 0; i < shape.timers; ++i) add_timer({reset, tick, start[i], stop[i], value}, i);
  return network;
}

firmware::Routine timer_bank_routine(const TimerBankShape& shape) {
  firmware::Routine routine("timer_tick");
  const auto timers = sized_array(routine, "timers", shape.bits, shape.timers);
  const auto expired = sized_local(routine, "expired", shape.timers);
  const auto left = sized_local(routine, "left", shape.bits);
  const auto timer = routine.local_u8("timer");
  routine.set(expired, 0);
  routine.for_count(timer, shape.timers, [&] {
    routine.set(left, timers[timer]);
    routine.if_(left != 0, [&] {
      routine.set(left, left - 1);
      routine.set(timers[timer], left);
      routine.if_(left == 0, [&] { routine.set(expired, expired | (sized_cast(shape.timers, 1) << timer)); });
    });
  });
  routine.return_(expired);
  return routine;
}

firmware::Routine next_deadline_routine(const TimerBankShape& shape) {
  firmware::Routine routine("timer_deadline");
  const std::uint32_t half = std::uint32_t{1} << (variable_bits(shape.bits) - 1);
  const auto timer = routine.parameter_u8("timer");
  const auto value = sized_parameter(routine, "value", shape.bits);
  const auto time = sized_port(routine, "time", shape.bits);
  const auto compare = sized_port(routine, "compare", shape.bits);
  const auto due = sized_array(routine, "due", shape.bits, shape.timers);
  const auto running = sized_state(routine, "running", shape.timers);
  const auto now = sized_local(routine, "now", shape.bits);
  const auto nearest = sized_local(routine, "nearest", shape.bits);
  const auto left = sized_local(routine, "left", shape.bits);
  const auto expired = sized_local(routine, "expired", shape.timers);
  const auto bit = sized_local(routine, "bit", shape.timers);
  const auto turn = routine.local_u8("turn");
  routine.set(now, time);
  routine.if_(timer < shape.timers, [&] {
    routine.set(bit, sized_cast(shape.timers, 1) << timer);
    routine.set(running, running & ~bit);
    routine.if_(value != 0, [&] {
      routine.set(running, running | bit);
      routine.set(due[timer], now + value);
    });
  });
  routine.set(expired, 0);
  routine.set(nearest, half - 1);
  routine.set(bit, 1);
  routine.for_count(turn, shape.timers, [&] {
    routine.if_((running & bit) != 0, [&] {
      routine.set(left, due[turn] - now - 1);
      routine.if_else(
          left >= half - 1, [&] { routine.set(expired, expired | bit); },
          [&] { routine.if_(left < nearest, [&] { routine.set(nearest, left); }); });
    });
    routine.set(bit, bit << 1);
  });
  routine.set(running, running & ~expired);
  routine.set(compare, now + nearest + 1);
  routine.return_(expired);
  return routine;
}

Kind timer_bank_kind() {
  Kind kind;
  kind.name = "timer-bank";
  kind.summary = "one-shot timers with a shared prescaler";
  kind.spread_class = "timer";
  kind.settings = timer_bank_settings();
  kind.network = [](const Settings& settings) { return timer_bank_network(shape_of(settings)); };
  kind.traffic = timer_bank_traffic;
  kind.methods = {{"software-timers", {}}, {"next-deadline", {"compare-output"}, false, Event::step}};
  kind.run = timer_bank_run;
  kind.event = always(Event::tick);
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

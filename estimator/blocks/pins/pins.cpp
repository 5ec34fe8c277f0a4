#include "blocks/pins/pins.hpp"

#include <fmt/core.h>

#include <memory>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "blocks/event_recorder.hpp"
#include "blocks/random_traffic.hpp"
#include "blocks/sized_variables.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

// Clocks between two ticks of the traffic, so that the counters move at a rate of their own.
constexpr std::uint64_t clocks_per_tick = 8;

std::vector<Setting> pins_settings() {
  return {
      {"lines", "pins, each input or output", IntegerDomain{1, 8, 32}},
      {"debounce_bits", "an input counts as changed after 2^debounce_bits ticks; 0: at once",
       IntegerDomain{0, 4, 16}},
  };
}

PinsShape shape_of(const Settings& settings) {
  return {.lines = static_cast<unsigned>(settings.integer("lines")),
          .debounce_bits = static_cast<unsigned>(settings.integer("debounce_bits"))};
}

struct LineInputs {
  Bit reset;
  Bit tick;
  Bit clear;
  Bit pin;
};

// Counts the ticks in which `pin` differs from `value`; a return of the pin starts over.
Bit add_debounce(const LineInputs& in, Bit pin, Bit value, unsigned bits, unsigned line) {
  const Bit differs = pin ^ value;
  if (bits == 0) return differs;
  const Word count = logic::add_registers(in.reset.network(), fmt::format("count{}", line), bits);
  logic::connect(count, count + 1U, {.enable = in.tick, .reset = in.reset | ~differs});
  return differs & in.tick & logic::all(count);
}

void add_line(const LineInputs& in, unsigned debounce_bits, unsigned line) {
  Network& network = in.reset.network();
  const Bit first = logic::registered(fmt::format("first{}", line), in.pin);
  const Bit second = logic::registered(fmt::format("second{}", line), first);
  const Bit value = logic::add_register(network, fmt::format("line_value{}", line));
  const Bit changed = logic::add_register(network, fmt::format("line_changed{}", line));
  const Bit toggles = add_debounce(in, second, value, debounce_bits, line);
  if (debounce_bits == 0) {
    logic::connect(value, second, {.enable = std::nullopt, .reset = in.reset});
  } else {
    logic::connect(value, !value, {.enable = toggles, .reset = in.reset});
  }
  logic::connect(changed, toggles, {.enable = toggles | in.clear, .reset = in.reset});
  logic::add_output(value, fmt::format("value[{}]", line));
  logic::add_output(changed, fmt::format("changed[{}]", line));
}

// Idle: quiet pins between ticks. Active: pins that bounce, and outputs that are written.
Drive pins_traffic(const Settings& /*settings*/, TrafficState state, std::uint64_t seed) {
  struct Inputs {
    std::mt19937_64 random;
    RandomInput pins{"pin_in"};
    RandomInput data{"data"};
  };
  auto inputs = std::make_shared<Inputs>();
  inputs->random.seed(seed);
  return [state, inputs](logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (state == TrafficState::idle) return;
    const std::uint64_t tick = clock / clocks_per_tick;
    simulator.set("tick", clock % clocks_per_tick == 0 ? 1 : 0);
    // Bounces for 8 ticks, then rests for 24.
    if (clock % clocks_per_tick == 1 && tick % 32 < 8) inputs->pins.set(simulator, inputs->random);
    if (clock % 16 == 0) inputs->data.set(simulator, inputs->random);
    simulator.set("write_output", clock % 16 == 1 ? 1 : 0);
    simulator.set("clear_changed", clock % 128 == 0 ? 1 : 0);
  };
}

// Lines at rest, every 64 ticks some of them bouncing for a while.
FirmwareRun pins_run(const Settings& settings, std::string_view /*method*/) {
  const PinsShape shape = shape_of(settings);
  EventRecorder recorder(pins_routine(shape));
  std::mt19937_64 random(1);
  std::uint32_t pins = 0;
  recorder.machine().on_read("pin_in", [&pins] { return pins; });
  for (unsigned tick = 0; tick < 2048; ++tick) {
    if (tick % 64 < 6) pins = static_cast<std::uint32_t>(random() & random());
    recorder.run();
  }
  recorder.machine().on_read("pin_in", {});
  return std::move(recorder).finish();
}

}  // namespace

Network pins_network(const PinsShape& shape) {
  Network network;
  const Bit reset = logic::add_input(network, "reset");
  const Bit tick = logic::add_input(network, "tick");
  const Bit clear = logic::add_input(network, "clear_changed");
  const Bit write_output = logic::add_input(network, "write_output");
  const Bit write_direction = logic::add_input(network, "write_direction");
  const Word data = logic::add_input_word(network, "data", shape.lines);
  const Word pins = logic::add_input_word(network, "pin_in", shape.lines);
  logic::add_output(logic::registered("output", data, {.enable = write_output, .reset = reset}), "pin_out");
  logic::add_output(logic::registered("direction", data, {.enable = write_direction, .reset = reset}),
                    "pin_enable");
  for (unsigned i = 0; i < shape.lines; ++i) add_line({reset, tick, clear, pins[i]}, shape.debounce_bits, i);
  return network;
}

firmware::Routine pins_routine(const PinsShape& shape) {
  firmware::Routine routine("pins_tick");
  const unsigned lines = shape.lines;
  const auto port = sized_port(routine, "pin_in", lines);
  const auto value = sized_state(routine, "value", lines);
  const auto changed = sized_state(routine, "changed", lines);
  const auto differs = sized_local(routine, "differs", lines);
  const auto carry = sized_local(routine, "carry", lines);
  const auto plane_now = sized_local(routine, "plane_now", lines);
  routine.set(differs, port ^ value);
  routine.set(carry, differs);
  for (unsigned bit = 0; bit < shape.debounce_bits; ++bit) {
    const auto plane = sized_state(routine, fmt::format("plane{}", bit), lines);
    routine.set(plane_now, plane);
    routine.set(plane, (plane_now ^ carry) & differs);
    routine.set(carry, carry & plane_now);
  }
  routine.if_(carry != 0, [&] {
    routine.set(value, value ^ carry);
    routine.set(changed, changed | carry);
  });
  routine.return_(carry);
  return routine;
}

Kind pins_kind() {
  Kind kind;
  kind.name = "pins";
  kind.summary = "general-purpose pins: debounced inputs with change flags, outputs with directions";
  kind.spread_class = "registers";
  kind.settings = pins_settings();
  kind.network = [](const Settings& settings) { return pins_network(shape_of(settings)); };
  kind.traffic = pins_traffic;
  kind.methods = {{"vertical-counters", {}}};
  kind.run = pins_run;
  kind.event = always(Event::tick);
  kind.pace = [](const Settings&) { return Pace{Event::tick, clocks_per_tick}; };
  kind.pins = [](const Settings& settings) {
    return Pins{.bidirectional = static_cast<unsigned>(settings.integer("lines"))};
  };
  return kind;
}

}  // namespace portweigh::blocks

#include "blocks/pins/pulse_width.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <bit>
#include <memory>
#include <optional>
#include <random>
#include <string>
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

std::vector<Setting> pulse_width_settings() {
  return {
      {"channels", "outputs with a duty value each", IntegerDomain{1, 4, 32}},
      {"bits", "bits of the counter and of the duty values", IntegerDomain{1, 8, 24}},
  };
}

PulseWidthShape shape_of(const Settings& settings) {
  return {.channels = static_cast<unsigned>(settings.integer("channels")),
          .bits = static_cast<unsigned>(settings.integer("bits"))};
}

std::size_t channel_bits(const PulseWidthShape& shape) {
  return static_cast<std::size_t>(std::bit_width(std::max(shape.channels, 2U) - 1U));
}

struct ChannelInputs {
  Bit reset;
  Bit enable;
  Bit writes;      // the written duty is this channel's
  Bit period_end;  // the last count of a period
  Word duty;
  Word count;
};

void add_channel(const ChannelInputs& in, unsigned index) {
  const Word buffered =
      logic::registered(fmt::format("buffer{}", index), in.duty, {.enable = in.writes, .reset = in.reset});
  const Word active =
      logic::registered(fmt::format("duty{}", index), buffered, {.enable = in.period_end, .reset = in.reset});
  const Bit level = logic::registered(fmt::format("level{}", index), in.count < active,
                                      {.enable = in.enable, .reset = in.reset});
  logic::add_output(level, fmt::format("pwm[{}]", index));
}

// Idle: the counter stands. Active: it runs, and duty values change a few times a period.
Drive pulse_width_traffic(const Settings& /*settings*/, TrafficState state, std::uint64_t seed) {
  struct Inputs {
    std::mt19937_64 random;
    RandomInput write{"write"};
    RandomInput channel{"channel"};
    RandomInput duty{"duty"};
  };
  auto inputs = std::make_shared<Inputs>();
  inputs->random.seed(seed);
  return [state, inputs](logic::Simulator& simulator, std::uint64_t clock) {
    const bool is_active = state == TrafficState::active;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_active ? 1 : 0);
    if (!is_active) return;
    inputs->write.set_rare(simulator, inputs->random, 6);
    if (clock % 16 != 0) return;
    inputs->channel.set(simulator, inputs->random);
    inputs->duty.set(simulator, inputs->random);
  };
}

// Whole periods, one duty value changed in each.
FirmwareRun step_run(const PulseWidthShape& shape) {
  EventRecorder recorder(pulse_width_step_routine(shape));
  std::mt19937_64 random(1);
  const std::uint64_t period = std::uint64_t{1} << std::min(shape.bits, 12U);
  for (std::uint64_t tick = 0; tick < std::max<std::uint64_t>(period, 1024); ++tick) {
    if (tick % 64 == 0) {
      const auto duty = static_cast<std::uint32_t>(random() & ((std::uint64_t{1} << shape.bits) - 1));
      recorder.machine().set_element("duty", random() % shape.channels, duty);
    }
    recorder.run();
  }
  return std::move(recorder).finish();
}

// One period in four brings a new value for one channel, one in 64 for all.
FirmwareRun update_run(const PulseWidthShape& shape) {
  EventRecorder recorder(pulse_width_update_routine(shape));
  std::mt19937_64 random(1);
  for (unsigned period = 0; period < 1024; ++period) {
    const std::uint64_t all = (std::uint64_t{1} << shape.channels) - 1;
    const std::uint64_t one = std::uint64_t{1} << random() % shape.channels;
    recorder.machine().set("changed", static_cast<std::uint32_t>(period % 64 == 0  ? all
                                                                 : period % 4 == 0 ? one
                                                                                   : 0));
    recorder.run();
  }
  return std::move(recorder).finish();
}

FirmwareRun pulse_width_run(const Settings& settings, std::string_view method) {
  const PulseWidthShape shape = shape_of(settings);
  return method == "compare-output" ? update_run(shape) : step_run(shape);
}

}  // namespace

Network pulse_width_network(const PulseWidthShape& shape) {
  Network network;
  const Bit reset = logic::add_input(network, "reset");
  const Bit enable = logic::add_input(network, "enable");
  const Bit write = logic::add_input(network, "write");
  const Word channel = logic::add_input_word(network, "channel", channel_bits(shape));
  const Word duty = logic::add_input_word(network, "duty", shape.bits);
  const Word count = logic::add_registers(network, "count", shape.bits);
  logic::connect(count, count + 1U, {.enable = enable, .reset = reset});
  const Bit period_end = enable & logic::all(count);
  for (unsigned i = 0; i < shape.channels; ++i) {
    add_channel({reset, enable, write & (channel == i), period_end, duty, count}, i);
  }
  logic::add_output(logic::registered("period_start", period_end, {.enable = std::nullopt, .reset = reset}),
                    "period_start");
  return network;
}

firmware::Routine pulse_width_step_routine(const PulseWidthShape& shape) {
  firmware::Routine routine("pulse_width_step");
  const auto duty = sized_array(routine, "duty", shape.bits, shape.channels);
  const auto active = sized_array(routine, "active", shape.bits, shape.channels);
  const auto counter = sized_state(routine, "counter", shape.bits);
  const auto port = sized_port(routine, "level", shape.channels);
  const auto count = sized_local(routine, "count", shape.bits);
  const auto level = sized_local(routine, "levels", shape.channels);
  const auto channel = routine.local_u8("index");
  routine.set(count, counter);
  routine.set(level, 0);
  routine.set(channel, shape.channels);
  routine.do_while(
      [&] {
        routine.set(channel, channel - 1);
        routine.set(level, level << 1);
        routine.if_(count < active[channel], [&] { routine.set(level, level | 1); });
      },
      channel != 0);
  routine.set(port, level);
  const std::uint32_t last = (std::uint32_t{1} << shape.bits) - 1;
  if (variable_bits(shape.bits) == shape.bits) {
    routine.set(count, count + 1);
  } else {
    routine.set(count, (count + 1) & last);
  }
  routine.set(counter, count);
  routine.if_(count == 0, [&] {
    routine.for_count(channel, shape.channels, [&] { routine.set(active[channel], duty[channel]); });
  });
  return routine;
}

firmware::Routine pulse_width_update_routine(const PulseWidthShape& shape) {
  firmware::Routine routine("pulse_width_update");
  const auto duty = sized_array(routine, "duty", shape.bits, shape.channels);
  const auto changed = sized_state(routine, "changed", shape.channels);
  const auto mask = sized_local(routine, "mask", shape.channels);
  routine.set(mask, changed);
  routine.if_(mask == 0, [&] { routine.return_(); });
  for (unsigned i = 0; i < shape.channels; ++i) {
    const auto compare = sized_port(routine, fmt::format("compare{}", i), shape.bits);
    routine.if_((mask & (1U << i)) != 0, [&] { routine.set(compare, duty[i]); });
  }
  routine.set(changed, 0);
  return routine;
}

Kind pulse_width_kind() {
  Kind kind;
  kind.name = "pulse-width";
  kind.summary = "pulse-width modulation: channels on a shared counter, duty values double-buffered";
  kind.spread_class = "timer";
  kind.settings = pulse_width_settings();
  kind.network = [](const Settings& settings) { return pulse_width_network(shape_of(settings)); };
  kind.traffic = pulse_width_traffic;
  kind.methods = {{"software-steps", {}}, {"compare-output", {"compare-output"}}};
  kind.run = pulse_width_run;
  kind.event = always(Event::tick);
  kind.runs_while_quiet = true;
  kind.pins = [](const Settings& settings) {
    return Pins{.digital_outputs = static_cast<unsigned>(settings.integer("channels"))};
  };
  return kind;
}

}  // namespace portweigh::blocks

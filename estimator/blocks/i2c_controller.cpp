// I2C controller with a register interface of 8 bits: bytes are sent and received under single commands, with
// repeated starts, clock stretching, clock synchronisation and arbitration between controllers.
//
// A bit takes five phases of (prescaler + 1) clocks, one of rest and four in which the lines do this:
//   start  release SDA | release SCL | SDA low | wait | SCL low   (works as repeated start too)
//   bit    SCL low, SDA set | release SCL | wait | SCL low
//   stop   both low | release SCL | wait | release SDA
// A phase waits while a target holds SCL low. Lines are filtered by a majority of three samples, taken every
// (prescaler / 4 + 1) clocks. Arbitration is lost when a released SDA reads low in a sent bit, or a stop
// appears that was not ours. Interrupt after each command.
// Example: 48 MHz, 100 kHz: prescaler = 48e6 / (5 * 100e3) - 1 = 95.
// Bus rules: I2C-bus specification (public). Tested by tests/blocks/i2c_controller_test.cpp.
#include <fmt/format.h>

#include <array>
#include <span>
#include <vector>

#include "blocks/host_interface.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;
constexpr unsigned prescaler_bits = 16;

struct Line {
  Bit level;
  Bit previous;
  Bit rises() const { return level & (~previous); }
  Bit falls() const { return (~level) & previous; }
};

Line add_line(Bit pin, Bit sample, Bit reset, const std::string& name) {
  const Word synchronised = add_registers(pin.network(), name + "_synchronised", 2);
  connect(synchronised, shifted_left(synchronised, 1, pin), {.reset = reset, .reset_value = 3});
  const Word samples = add_registers(pin.network(), name + "_samples", 3);
  connect(samples, shifted_left(samples, 1, synchronised[1]),
          {.enable = sample, .reset = reset, .reset_value = 7});
  Network& network = pin.network();
  const Bit majority{network,
                     network.make_majority(samples[0].literal(), samples[1].literal(), samples[2].literal())};
  const Bit level = registered(name + "_level", majority, {.reset = reset, .reset_value = 1});
  return {level, registered(name + "_previous", level, {.reset = reset, .reset_value = 1})};
}

struct HostBusPorts {
  Bit reset;
  Word address;
  Bit write;
  Word write_data;

  Bit writes(I2cRegister target) const { return write & (address == static_cast<std::uint64_t>(target)); }
};

struct CommandRegisters {
  Word prescaler;
  Bit is_enabled, interrupt_enabled;
  Word transmit;
  Bit start, stop, read, write, refuse;
  Bit command_written;
  Word command() const {
    Word word = constant_word(refuse.network(), 0, 3);
    for (const Bit bit : {refuse, write, read, stop, start}) word.append(bit);
    return word;
  }
};

CommandRegisters add_command_registers(const HostBusPorts& bus, Bit command_done) {
  const Bit reset = bus.reset;
  const Word low =
      registered("prescaler_low", bus.write_data,
                 {.enable = bus.writes(I2cRegister::prescaler_low), .reset = reset, .reset_value = 0xFF});
  const Word high =
      registered("prescaler_high", bus.write_data,
                 {.enable = bus.writes(I2cRegister::prescaler_high), .reset = reset, .reset_value = 0xFF});
  const Word control = registered("control", bus.write_data.slice(6, 2),
                                  {.enable = bus.writes(I2cRegister::control), .reset = reset});
  const Word transmit =
      registered("transmit", bus.write_data, {.enable = bus.writes(I2cRegister::data), .reset = reset});
  const Bit written = bus.writes(I2cRegister::command) & control[1];
  const Word verbs = registered("command", bus.write_data.slice(4, 4),
                                {.enable = written, .reset = reset | (command_done & (~written))});
  const Bit refuse = registered("refuse", bus.write_data[3], {.enable = written, .reset = reset});
  return {concatenate(low, high),
          control[1],
          control[0],
          transmit,
          verbs[3],
          verbs[2],
          verbs[1],
          verbs[0],
          refuse,
          written};
}

// States of a byte; one-hot, idle is none of them.
struct ByteStates {
  Bit start, read, write, acknowledge, stop;
  Bit any() const { return start | read | write | acknowledge | stop; }
};

struct BitEngine {
  Bit scl_released, sda_released;
  Bit done;  // one clock at the end of each bit, start or stop
  Bit arbitration_lost;
};

// What the lines are set to in one step of a bit, start or stop.
enum class Level : std::uint8_t { low, released, data, as_it_is };
struct BitStep {
  Level scl, sda;
};
constexpr std::array<BitStep, 5> start_steps{{{Level::as_it_is, Level::released},
                                              {Level::released, Level::released},
                                              {Level::released, Level::low},
                                              {Level::released, Level::low},
                                              {Level::low, Level::low}}};
constexpr std::array<BitStep, 4> stop_steps{{{Level::low, Level::low},
                                             {Level::released, Level::low},
                                             {Level::released, Level::low},
                                             {Level::released, Level::released}}};
constexpr std::array<BitStep, 4> read_steps{{{Level::low, Level::released},
                                             {Level::released, Level::released},
                                             {Level::released, Level::released},
                                             {Level::low, Level::released}}};
constexpr std::array<BitStep, 4> write_steps{{{Level::low, Level::data},
                                              {Level::released, Level::data},
                                              {Level::released, Level::data},
                                              {Level::low, Level::data}}};

struct StepLevels {
  Bit is_active;
  BitStep levels;
};

// One-hot states of all sequences; a tick moves from state to state, and out of rest into the wanted
// sequence.
class BitStates {
 public:
  BitStates(Network& network, Bit data_bit)
      : scl_released_(add_register(network, "scl_released")),
        sda_released_(add_register(network, "sda_released")),
        data_bit_(data_bit) {}

  // Adds the registers of a sequence; gives them in order.
  std::vector<Bit> add(std::string_view name, std::span<const BitStep> steps) {
    std::vector<Bit> states;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      states.push_back(add_register(scl_released_.network(), fmt::format("{}_{}", name, i)));
      steps_.push_back({states.back(), steps[i]});
    }
    return states;
  }
  Bit any_active() const {
    Word states(scl_released_.network());
    for (const StepLevels& step : steps_) states.append(step.is_active);
    return any(states);
  }
  static void connect(const std::vector<Bit>& states, Bit begins, Bit tick, Bit clear) {
    for (std::size_t i = 0; i < states.size(); ++i) {
      logic::connect(states[i], i == 0 ? begins : states[i - 1], {.enable = tick, .reset = clear});
    }
  }
  void connect_lines(Bit tick, Bit clear) const {
    const logic::RegisterControl control{.enable = tick, .reset = clear, .reset_value = 1};
    logic::connect(scl_released_, next_level(scl_released_, &BitStep::scl), control);
    logic::connect(sda_released_, next_level(sda_released_, &BitStep::sda), control);
  }
  Bit scl_released() const { return scl_released_; }
  Bit sda_released() const { return sda_released_; }

 private:
  Bit next_level(Bit line, Level BitStep::*which) const {
    Network& network = line.network();
    Word high(network);
    Word keeps(network);
    Word sends(network);
    for (const StepLevels& step : steps_) {
      const Level level = step.levels.*which;
      if (level == Level::released) high.append(step.is_active);
      if (level == Level::as_it_is) keeps.append(step.is_active);
      if (level == Level::data) sends.append(step.is_active);
    }
    keeps.append(~any_active());
    return any(high) | (any(keeps) & line) | (any(sends) & data_bit_);
  }

  Bit scl_released_, sda_released_, data_bit_;
  std::vector<StepLevels> steps_;
};

struct BitOrders {
  Bit start, stop, read, write;
};

// Ticks of the prescaler; held back by a low SCL that should be high, hurried by another controller's.
Bit add_tick(Network& network, const CommandRegisters& command, Bit scl_released, const Line& scl,
             Bit reset) {
  const Word timer = add_registers(network, "timer", prescaler_bits);
  const Bit is_stretched = scl_released & (~scl.level);
  const Bit expired = timer == 0U;
  const Bit tick = (expired & (~is_stretched)) | (scl_released & scl.falls());
  const Bit reload = tick | (~command.is_enabled);
  connect(timer, select(reload, command.prescaler, timer - 1U),
          {.enable = reload | (~is_stretched), .reset = reset});
  return tick;
}

BitEngine add_bit_engine(Network& network, const CommandRegisters& command, const BitOrders& orders,
                         Bit data_bit, const Line& scl, const Line& sda, Bit reset) {
  BitStates states(network, data_bit);
  const auto start = states.add("start", start_steps);
  const auto stop = states.add("stop", stop_steps);
  const auto read = states.add("read", read_steps);
  const auto write = states.add("write", write_steps);
  const Bit tick = add_tick(network, command, states.scl_released(), scl, reset);
  const Bit done = add_register(network, "bit_done");

  // A released SDA that reads low in a sent bit, or a stop that is not ours.
  const Bit lost = add_register(network, "lost");
  const Bit clear = reset | (~command.is_enabled) | lost;
  const Bit checks = registered("checks", write[2], {.enable = tick, .reset = clear});
  const Bit stop_expected =
      registered("stop_expected", stop[3], {.enable = tick & (stop[3] | start[3]), .reset = clear});
  const Bit stop_seen = scl.level & scl.previous & sda.rises();
  const Bit is_active = states.any_active();
  const Bit denied = checks & states.sda_released() & (~sda.level);
  connect(lost, denied | (is_active & stop_seen & (~stop_expected)), {.reset = clear});

  const Bit rests = (~is_active) & (~done);
  BitStates::connect(start, rests & orders.start, tick, clear);
  BitStates::connect(stop, rests & orders.stop, tick, clear);
  BitStates::connect(read, rests & orders.read, tick, clear);
  BitStates::connect(write, rests & orders.write, tick, clear);
  states.connect_lines(tick, clear);
  connect(done, tick & (start[4] | stop[3] | read[3] | write[3]), {.reset = clear});
  return {states.scl_released(), states.sda_released(), done, lost};
}

void connect_states(const ByteStates& state, const CommandRegisters& command, Bit go, Bit bit_done,
                    Bit last_bit, Bit clear) {
  const Bit starts = go & command.start;
  const Bit plain = go & (~command.start);
  const Bit start_ends = state.start & bit_done;
  const Bit byte_ends = bit_done & last_bit;
  const Bit begins = plain | start_ends;
  connect(state.start, starts | (state.start & (~bit_done)), {.reset = clear});
  connect(state.read, (begins & command.read) | (state.read & (~byte_ends)), {.reset = clear});
  connect(state.write,
          (begins & (~command.read) & (command.write | start_ends)) | (state.write & (~byte_ends)),
          {.reset = clear});
  connect(state.acknowledge, ((state.read | state.write) & byte_ends) | (state.acknowledge & (~bit_done)),
          {.reset = clear});
  const Bit stop_only = plain & (~command.read) & (~command.write);
  connect(state.stop, stop_only | (state.acknowledge & bit_done & command.stop) | (state.stop & (~bit_done)),
          {.reset = clear});
}

ByteStates add_byte_states(Network& network) {
  return {add_register(network, "byte_start"), add_register(network, "byte_read"),
          add_register(network, "byte_write"), add_register(network, "byte_acknowledge"),
          add_register(network, "byte_stop")};
}

struct StatusBits {
  Bit refused, busy, arbitration_lost, in_progress, interrupt;
  Word word() const {
    Network& network = refused.network();
    const Bit zero = constant_bit(network, false);
    Word result(network);
    for (const Bit bit : {interrupt, in_progress, zero, zero, zero, arbitration_lost, busy, refused}) {
      result.append(bit);
    }
    return result;
  }
};

Word add_read_side(Network& network, const HostBusPorts& bus, const CommandRegisters& command,
                   const Word& received, const StatusBits& status) {
  const Bit zero = constant_bit(network, false);
  Word control(network);
  for (unsigned i = 0; i < 6; ++i) control.append(zero);
  control.append(command.interrupt_enabled);
  control.append(command.is_enabled);
  const std::vector<Word> readable{command.prescaler.slice(0, byte_bits),
                                   command.prescaler.slice(byte_bits, byte_bits),
                                   control,
                                   received,
                                   status.word(),
                                   command.transmit,
                                   command.command()};
  return registered("read_data", select_indexed(bus.address, readable));
}

}  // namespace

Network i2c_controller_network() {
  Network network;
  const HostBusPorts bus{add_input(network, "reset"), add_input_word(network, "address", 3),
                         add_input(network, "write"), add_input_word(network, "write_data", byte_bits)};
  const Bit scl_pin = add_input(network, "scl");
  const Bit sda_pin = add_input(network, "sda");
  const Bit reset = bus.reset;

  const Bit command_done = add_register(network, "command_done");
  const CommandRegisters command = add_command_registers(bus, command_done);

  const Word filter = add_registers(network, "filter", prescaler_bits - 2);
  const Bit sample = filter == 0U;
  connect(filter, select(sample, command.prescaler.slice(2, prescaler_bits - 2), filter - 1U),
          {.enable = command.is_enabled, .reset = reset});
  const Line scl = add_line(scl_pin, sample, reset, "scl");
  const Line sda = add_line(sda_pin, sample, reset, "sda");

  const ByteStates state = add_byte_states(network);
  const Word shift = add_registers(network, "shift", byte_bits);
  const Word bit_count = add_registers(network, "bit_count", 3);
  const Bit data_bit = select(state.write, shift.top(), command.refuse);
  const BitOrders orders{state.start, state.stop, state.read | (state.acknowledge & (~command.read)),
                         state.write | (state.acknowledge & command.read)};
  const BitEngine engine = add_bit_engine(network, command, orders, data_bit, scl, sda, reset);

  const Bit clear = reset | (~command.is_enabled) | engine.arbitration_lost;
  const Bit wanted = command.read | command.write | command.stop;
  const Bit go = wanted & (~state.any()) & (~command_done);
  const Bit last_bit = all(bit_count);
  connect_states(state, command, go, engine.done, last_bit, clear);

  const Bit received_bit = registered("received_bit", sda.level, {.enable = scl.rises()});
  const Bit shifts = engine.done & (state.read | state.write);
  connect(shift, select(go, command.transmit, shifted_left(shift, 1, received_bit)), {.enable = go | shifts});
  connect(bit_count, bit_count + 1U, {.enable = shifts, .reset = go});
  const Bit acknowledge_ends = engine.done & state.acknowledge;
  const Bit ends = (acknowledge_ends & (~command.stop)) | (engine.done & state.stop);
  connect(command_done, ends | engine.arbitration_lost, {.reset = reset});
  const Bit refused =
      registered("refused", received_bit, {.enable = acknowledge_ends & command.write, .reset = reset});

  const Bit start_seen = scl.level & scl.previous & sda.falls();
  const Bit stop_seen = scl.level & scl.previous & sda.rises();
  const Bit busy = add_register(network, "busy");
  connect(busy, start_seen | (busy & (~stop_seen)), {.reset = reset | (~command.is_enabled)});
  const Bit lost_flag = add_register(network, "lost_flag");
  const Bit start_written = command.command_written & bus.write_data.top();
  connect(lost_flag, engine.arbitration_lost | (lost_flag & (~start_written)), {.reset = reset});
  const Bit flag = add_register(network, "interrupt_flag");
  const Bit flag_cleared = command.command_written & bus.write_data[0];
  connect(flag, command_done | (flag & (~flag_cleared)), {.reset = reset});
  const Bit interrupt = registered("interrupt_register", flag & command.interrupt_enabled, {.reset = reset});
  const Bit in_progress = command.read | command.write | command.stop;

  add_output(add_read_side(network, bus, command, shift, {refused, busy, lost_flag, in_progress, flag}),
             "read_data");
  add_output(~engine.scl_released, "scl_low");
  add_output(~engine.sda_released, "sda_low");
  add_output(interrupt, "interrupt");
  return network;
}

}  // namespace portweigh::blocks

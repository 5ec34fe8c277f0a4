// I2C controller that works through instructions: start, stop, send a byte, receive a byte, one waiting while
// another runs. Repeated starts, clock stretching and synchronisation, arbitration between controllers.
//
// Time is counted in steps of (rate + 1) clocks. A bit is nine steps, SCL low for five and high for four: the
// share that meets the low and the high time of standard, fast and fast-mode plus at their full rates. A
// start or stop is five low steps and nine high ones, in which SDA changes where set-up and hold times want
// it:
//
//   step    0 | 1  2  3  4 | 5  6  7  8 | 9 | 10 11 12 13
//   bit     SCL low; SDA   | SCL high   |
//   start   changes in     | SCL high, SDA high   | SDA low   (the first start has no low part)
//   stop    step 1         | SDA low    | SDA high            (bus free time)
//
// High steps are counted from where SCL is seen high, so a period is 9 (rate + 1) clocks and the delay of the
// lines. A line is seen to change where it has differed for more than `filter` clocks; five steps must be
// longer than the delay, filter + i2c_line_delay_clocks. SCL seen falling ends a bit early, as the clocks of
// several controllers must. A start waits for a free bus. The bus is lost where SDA, released by us, is low
// at the end of a bit, where a start or stop stands in a bit, and where SCL falls before a start or stop of
// ours is made.
//
// A refused byte or a lost bus notifies the host, drops what waits, and whatever is written until the host
// has taken the report, so that nothing runs that was written before it knew. After a refusal SCL stays low.
// Example: 48 MHz, 100 kHz, spikes of 50 ns: filter = 3, rate = (480 - 3 - 3) / 9 - 1, rounded up: 52.
// Bus rules: I2C-bus specification (public). Tested by tests/blocks/host_bus/i2c_controller_test.cpp.
#include "blocks/host_bus/host_interface.hpp"
#include "blocks/host_bus/i2c_line.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned byte_bits = 8;
constexpr unsigned step_bits = 4;

// Steps at whose ends something happens, and the one in which SCL is first high.
constexpr std::uint64_t hold_step = 0, last_low_step = 4, first_high_step = 5, stop_step = 8,
                        last_bit_step = 8, start_step = 9, last_condition_step = 13;

struct HostPorts {
  Bit reset;
  Word instruction;
  Bit write;
  Bit take;

  Word kind() const { return instruction.slice(i2c_instruction_shift, 2); }
  Word rate() const { return instruction.slice(0, i2c_rate_bits); }
  Word filter() const { return instruction.slice(i2c_rate_bits, i2c_filter_bits); }
  Bit sets_rate() const { return write & (kind() == static_cast<std::uint64_t>(I2cInstruction::rate)); }
};

HostPorts add_host_ports(Network& network) {
  return {add_input(network, "reset"), add_input_word(network, "instruction", i2c_instruction_bits),
          add_input(network, "write"), add_input(network, "take")};
}

// The instruction that waits.
struct Queue {
  Bit accepts;
  Bit is_full;
  Bit is_byte;   // send or receive, else a condition
  Bit receives;  // of bytes
  Bit notifies;  // at its end
  Word operand;
};

Queue add_queue(const HostPorts& host, Bit halted) {
  const Bit is_full = add_register(host.reset.network(), "queue_full");
  const Bit accepts = host.write & any(host.kind()) & (~is_full) & (~halted);
  const Word waiting = registered("queue", concatenate(host.instruction.slice(0, byte_bits + 1), host.kind()),
                                  {.enable = accepts});
  return {accepts, is_full, waiting[10], waiting[9], waiting[8], waiting.slice(0, byte_bits)};
}

// The instruction that runs, and how far it has come.
struct Progress {
  Bit is_running;
  Bit is_condition, is_receive, option, notifies;  // option: stop of a condition, refuse of a receive
  Bit holds_bus;                                   // from the end of a start to a stop or a loss
  Word step, bit;                                  // bit: 0..7, 8 acknowledges
  Bit scl_low, sda_low;

  Bit is_start() const { return is_condition & (~option); }
  Bit is_stop() const { return is_condition & option; }
  Bit is_acknowledge() const { return bit[3]; }
};

Progress add_progress(Network& network, Bit is_running, const Queue& queue, Bit load) {
  const logic::RegisterControl control{.enable = load};
  return {is_running,
          registered("condition", ~queue.is_byte, control),
          registered("receive", queue.is_byte & queue.receives, control),
          registered("option", queue.operand[0], control),
          registered("notify", queue.notifies, control),
          add_register(network, "holding"),
          add_registers(network, "step", step_bits),
          add_registers(network, "bit", 4),
          add_register(network, "scl_low_register"),
          add_register(network, "sda_low_register")};
}

// What the lines say.
struct BusView {
  I2cLine scl, sda;
  Bit seen;  // SDA when SCL was last high
  Bit busy;

  Bit is_high() const { return scl.level & scl.previous; }
};

// Two synchroniser registers and a count of the clocks in which the pin has differed from the level.
I2cLine add_line(Network& network, const std::string& name, const Word& filter, Bit reset) {
  const logic::RegisterControl high{.reset = reset, .reset_value = 1};
  const Bit pin = registered(name + "_pin", registered(name + "_meta", add_input(network, name), high), high);
  const Bit level = add_register(network, name + "_level");
  const Word count = add_registers(network, name + "_count", i2c_filter_bits);
  const Bit differs = pin ^ level;
  const Bit passes = differs & (count == filter);
  connect(count, count + 1U, {.reset = reset | (~differs) | passes});
  connect(level, level ^ passes, high);
  return {level, registered(name + "_previous", level, high)};
}

BusView add_bus_view(Network& network, const HostPorts& host, Bit clear) {
  const Word filter = registered("filter", host.filter(), {.enable = host.sets_rate()});
  const I2cLine scl = add_line(network, "scl", filter, host.reset);
  const I2cLine sda = add_line(network, "sda", filter, host.reset);
  const BusView bus{scl, sda, registered("seen", sda.level, {.enable = scl.level}),
                    add_register(network, "busy")};
  connect(bus.busy, (bus.is_high() & sda.falls()) | (bus.busy & (~(bus.is_high() & sda.rises()))),
          {.reset = clear});
  return bus;
}

// What happens in this clock.
struct Events {
  Bit waits;      // a first start waits for a free bus
  Bit tick;       // a step ends
  Bit slot_ends;  // a bit or condition ends, by its last step or by somebody's SCL
  Bit ends;       // and with it the instruction
  Bit lost, refused;
};

Bit add_tick(const HostPorts& host, const Progress& at, const BusView& bus, Bit waits, Bit cut) {
  const Word rate = registered("rate", host.rate(), {.enable = host.sets_rate()});
  const Word timer = add_registers(rate.network(), "timer", i2c_rate_bits);
  const Bit is_stretched = (~at.scl_low) & (~bus.scl.level);
  const Bit expired = timer == 0U;
  const Bit reload = expired | (~at.is_running) | waits | cut;
  connect(timer, select(reload, rate, timer - 1U), {.enable = cut | (~is_stretched)});
  return at.is_running & expired & (~is_stretched) & (~waits);
}

Events events_of(const HostPorts& host, const Progress& at, const BusView& bus, const Queue& queue,
                 Bit load) {
  const Bit waits = at.is_running & at.is_start() & (~at.holds_bus) & (~at.sda_low) & bus.busy;
  const Bit cut = at.is_running & (~at.scl_low) & bus.scl.falls();
  const Bit tick = add_tick(host, at, bus, waits, cut);

  const Bit is_made = (at.is_start() & at.sda_low) | (at.is_stop() & (~at.holds_bus));
  const Bit is_last_step = select(at.is_condition, at.step == last_condition_step, at.step == last_bit_step);
  const Bit slot_ends = (tick & is_last_step) | (cut & (is_made | (~at.is_condition)));
  const Bit ends = slot_ends & (at.is_condition | at.is_acknowledge());

  // Bits sent, acknowledges given, a start about to be made, a stop that should have been.
  const Bit is_ours = at.is_condition | (~(at.is_receive ^ at.is_acknowledge()));
  const Bit checks = (slot_ends & is_ours) | (tick & at.is_start() & (at.step == start_step));
  const Bit denied = checks & (~at.sda_low) & (~bus.seen);
  const Bit is_foreign_edge =
      (~at.is_condition) & (~at.scl_low) & bus.is_high() & (bus.sda.level ^ bus.sda.previous);
  const Bit is_cut_short = cut & at.is_condition & (~is_made);
  const Bit has_no_bus = load & (~at.holds_bus) & (queue.is_byte | queue.operand[0]);
  const Bit lost = denied | (at.holds_bus & (is_foreign_edge | is_cut_short)) | has_no_bus;
  return {waits, tick, slot_ends, ends, lost, ends & (~at.is_condition) & (~at.is_receive) & bus.seen};
}

void connect_progress(const Progress& at, const Events& now, Bit load, Bit clear) {
  const Bit drop = clear | now.lost;
  connect(at.is_running, load | (at.is_running & (~now.ends)), {.reset = drop});
  connect(at.step, gate(~now.slot_ends, at.step + 1U),
          {.enable = now.tick | now.slot_ends,
           .reset = drop | now.waits | (now.slot_ends & at.is_stop()),
           .reset_value = first_high_step});
  connect(at.bit, at.bit + 1U, {.enable = now.slot_ends & (~at.is_condition), .reset = drop | now.ends});
  const Bit makes_stop = now.tick & at.is_stop() & (at.step == stop_step);
  connect(at.holds_bus, ~at.option, {.enable = (now.ends & at.is_start()) | makes_stop, .reset = drop});
}

void connect_lines(const Progress& at, const Events& now, const Word& shift, Bit drop) {
  connect(at.scl_low, now.slot_ends & (~at.is_stop()),
          {.enable = now.slot_ends | (now.tick & (at.step == last_low_step)), .reset = drop});
  const Bit is_hold = at.step == hold_step;
  const Bit makes_condition =
      at.is_condition & select(at.option, at.step == stop_step, at.step == start_step);
  const Bit acknowledge_low = at.is_receive & (~at.option);
  const Bit data_low = (~at.is_receive) & (~shift.top());
  connect(
      at.sda_low,
      select(at.is_condition, ~(at.option ^ is_hold), select(at.is_acknowledge(), acknowledge_low, data_low)),
      {.enable = now.tick & (is_hold | makes_condition), .reset = drop});
}

// What the host reads, and whether instructions are dropped until it has.
struct Report {
  Bit refused, lost, notified;
  Bit halted() const { return refused | lost; }
};

void connect_report(const Report& report, const Progress& at, const Events& now, Bit take, Bit clear) {
  connect(report.refused, now.refused | (report.refused & (~take)), {.reset = clear});
  connect(report.lost, now.lost | (report.lost & (~take)), {.reset = clear});
  const Bit notifies = (now.ends & at.notifies) | now.refused | now.lost;
  connect(report.notified, notifies | (report.notified & (~take)), {.reset = clear});
}

}  // namespace

Network i2c_controller_network() {
  Network network;
  const HostPorts host = add_host_ports(network);
  const Bit clear = host.reset | host.sets_rate();
  const BusView bus = add_bus_view(network, host, clear);
  const Report report{add_register(network, "refused"), add_register(network, "lost"),
                      add_register(network, "notified")};
  const Queue queue = add_queue(host, report.halted());
  const Bit is_running = add_register(network, "running");
  const Bit load = queue.is_full & (~is_running);
  const Progress at = add_progress(network, is_running, queue, load);
  const Events now = events_of(host, at, bus, queue, load);
  connect_progress(at, now, load, clear);
  connect_report(report, at, now, host.take, clear);
  const Bit is_kept = queue.is_full & (~load);
  connect(queue.is_full, queue.accepts | is_kept, {.reset = clear | now.lost | now.refused});

  const Word shift = add_registers(network, "shift", byte_bits);
  const Bit shifts = now.slot_ends & (~at.is_acknowledge());
  connect(shift, select(load, queue.operand, shifted_left(shift, 1, bus.seen)), {.enable = load | shifts});
  const Word received = registered("received", shift, {.enable = now.ends & at.is_receive});
  connect_lines(at, now, shift, clear | now.lost);

  Word word = received;
  for (const Bit bit :
       {report.refused, report.lost, at.holds_bus, bus.busy, queue.is_full, report.notified}) {
    word.append(bit);
  }
  add_output(word, "report");
  add_output(report.notified, "interrupt");
  add_output(at.scl_low, "scl_low");
  add_output(at.sda_low, "sda_low");
  return network;
}

}  // namespace portweigh::blocks

// The firmware of an option: which tasks run on its processor, at which clock they meet their deadlines, and
// what memory they take.
//
// Every block on the processor becomes a task: cycles from the executed routine on this core class, period
// and deadline from the event rules. The line is half-duplex, so receiving, answering and transmitting are
// three task sets; each is checked by response-time analysis, priorities by deadline. Answering begins with
// the last bit of a message: what is left of decoding and framing, the steps of the message layer, and the
// first bits of the answer, each once, within the turn-round. What a stream sets off, on the line or a
// host bus, is charged by the sequence of its events as it ran, all else its longest event each time. Events that interrupt
// add entry, frame and exit of the core. Reception may poll the line instead where the processor is awake anyway:
// that needs no entry and exit, but nothing else runs while a message arrives. Handlers of such streams run
// from RAM where the core can. Where a block offers several methods, the one with the fewest cycles a second
// among those whose peripherals the part has is taken. A framing routine does its symbols, check sums and
// packet buffers itself, so blocks it contains are not counted twice. Tested by
// tests/options/firmware/schedule_test.cpp.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "firmware/response_time.hpp"
#include "options/context.hpp"
#include "options/firmware/event_rules.hpp"

namespace portweigh::options {

struct ScheduledTask {
  std::string block;
  const FirmwareFigures* figures = nullptr;
  EventRule rule;
  double batch = 1;                  // events handled in one activation (DMA)
  firmware::CostRange mean_cycles;   // of one event, interrupt overhead shared over its batch
  firmware::CostRange worst_cycles;  // of one activation, interrupt overhead included
  // Most of 1, 2, .. consecutive ones where a stream decides which follow each other; else empty. Low,
  // typical, high.
  std::array<std::vector<double>, 3> consecutive_cycles = {};
  std::string contained_in;  // its work is part of this block's routine; not scheduled itself
  bool is_spread = false;    // of messages, worked off byte by byte: cycles and rule are of a byte
  bool is_in_ram = false;    // its code, which flash then doesn't make wait
  // Reception polls: events of a whole message to be worked off between its end and the answer; else 0.
  double events_after_message = 0;
};

// The controller of a link to another chip, run by the processor.
struct LinkTask {
  study::FunctionBlock controller;
  double byte_s = 0;
  double answer_s = 0;  // taken off the deadlines of what works beyond the link
  double bytes_per_message = 0;
};

// How the processor can be clocked and what it offers.
struct Processor {
  const firmware::Core* core = nullptr;
  std::vector<double> clocks_hz;  // rising
  double clocks_per_cycle = 1;
  std::map<std::string, unsigned> peripherals;
  double ram_bytes = 0;  // for variables, stack and code in RAM
  std::optional<LinkTask> link;
};

Processor processor_of(const Context& context, const parts::Microcontroller& part);
// The core class of soft processors.
const firmware::Core* soft_core_of(const Context& context);
// Clocked by the fabric's oscillator or one of its divisions; the part must have one.
Processor host_processor_of(const Context& context);
Processor soft_processor_of(const Context& context, const parts::ProgrammableLogic& part);

struct Memory {
  firmware::CostRange code_bytes;
  double constant_bytes = 0;
  double ram_bytes = 0;
  double stack_bytes = 0;
};

// Clock needed and cycles a second, with memory that never waits: the same at every clock.
struct WithoutWaits {
  firmware::CostRange required_hz;
  firmware::CostRange busy_hz;
  firmware::CostRange attached_hz;
};

struct Schedule {
  std::vector<ScheduledTask> tasks;
  Memory memory;
  // Lowest allowed clock that meets every deadline with the high cycles; if none does, the lowest that does
  // with the typical ones; none if that fails too.
  std::optional<double> clock_hz;
  // All allowed clocks at which the deadlines hold with the same cycles as at that one, rising.
  std::vector<double> feasible_clocks_hz;
  WithoutWaits without_waits;
  // By wait states, at clock_hz or else at the highest clock.
  double wait_stretch = 1;  // of code in flash
  double need_stretch = 1;  // of the clock needed: less where handlers run from RAM
  double load_stretch = 1;  // of the mean cycles a second, line busy
  // The lowest clock of any value that meets every deadline with low, typical and high cycles, each with the
  // stretch of the need: a clock c holds if and only if the need with c's own wait states is no more than c. 0: no task.
  firmware::CostRange required_hz;
  std::string limiting_task;  // the first to miss its deadline below required_hz.typical
  double limiting_deadline_s = 0;
  std::vector<firmware::TaskResponse> responses;  // typical cycles, at clock_hz or else at the highest clock
  // Cycles a second, mean.
  firmware::CostRange busy_hz;      // line carrying bits, half of the time each way
  firmware::CostRange attached_hz;  // goes on while attached
  double wake_up_cycles = 0;        // one event that wakes the processor: entry, frame, a step, exit
  bool runs_while_quiet = false;    // a block's outputs need the clock all the time
  double tick_hz = 0;               // of the protocol's timers while one of them runs; 0: no task needs ticks
  double tick_cycles = 0;           // of one tick that wakes the processor
};

// `blocks` are those the processor carries. Blocks without a routine are ignored.
Schedule make_schedule(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                       const Processor& processor);

// The same without the search for the lowest clock of any value and its limit: quicker.
Schedule schedule_without_search(const Context& context, std::span<const study::FunctionBlock* const> blocks,
                                 const Processor& processor);

// The same firmware at another clock: loads and responses follow.
void set_clock(Schedule& schedule, const Processor& processor, double clock_hz);

// With start-up code and main loop.
struct MemoryNeed {
  figures::Range flash_bytes;  // code and constants
  double ram_bytes = 0;        // variables and stack
};

MemoryNeed memory_need(const Schedule& schedule);

// "message-receive (step, method switch): 80 cycles for each event, to be done within 195 us, ... needs 46
// MHz".
std::string describe_limit(const Schedule& schedule);

// Why the highest clock is not enough: the tasks that alone take more than it, or else the limit.
std::string describe_shortfall(const Schedule& schedule, const Processor& processor);

}  // namespace portweigh::options

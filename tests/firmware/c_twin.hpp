// The plain C twin of a routine, for measuring with real compilers and cycle-accurate simulators: the same
// statements in the same order, static variables and ports as globals, structures behind pointers.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "firmware/execute.hpp"
#include "firmware/routine.hpp"

namespace portweigh::firmware {

// A machine that writes down what each event started from and what it left behind.
class RecordingMachine : public Machine {
 public:
  explicit RecordingMachine(const Routine& routine) : Machine(routine), routine_(routine) {}
  explicit RecordingMachine(Routine&&) = delete;

  std::uint32_t run(std::initializer_list<std::uint32_t> arguments = {});

  // Records the next `events` events; text form, one item a line:
  //   event ARG...  /  poke NAME INDEX VALUE  /  result VALUE  /  expect NAME INDEX VALUE
  void record(std::size_t events) { left_ = events; }
  const std::string& text() const { return text_; }
  // Counts of the recorded events only.
  const Counts& recorded_counts() const { return left_ > 0 ? counts() : recorded_counts_; }

 private:
  const Routine& routine_;
  std::size_t left_ = 0;
  std::string text_;
  Counts recorded_counts_;
};

// C99 source of the routine; the event is a function named `event_function`.
std::string c_source(const Routine& routine);

// Lines `WORD NAME INDEX VALUE` of everything that outlives an event, as `machine` holds it.
std::string state_lines(const Machine& machine, const std::string& word);
// Lines `poke NAME 0 VALUE` of the connected input ports: what the last event read.
std::string input_lines(const Machine& machine);

// One line for each global a runner may touch: NAME, OWNER ('-' or structure), BYTES, LENGTH.
std::string symbol_list(const Routine& routine);

}  // namespace portweigh::firmware

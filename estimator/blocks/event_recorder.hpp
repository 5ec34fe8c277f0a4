// Runs a routine event by event and keeps what `FirmwareRun` wants: the counts of all events, and those of
// the longest one.
//
// "Longest" is the event with the most executed statements and counted branch directions; the cost model
// then says what it takes on a core. Example:
//   EventRecorder recorder(std::move(routine), "byte");
//   for (const auto byte : message) recorder.run({byte});
//   return std::move(recorder).finish();
// Tested by tests/blocks/event_recorder_test.cpp.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <span>
#include <string>

#include "blocks/kind.hpp"
#include "firmware/execute.hpp"

namespace portweigh::blocks {

class EventRecorder {
 public:
  EventRecorder(firmware::Routine routine, std::string event);

  // One event; gives what the routine returned.
  std::uint32_t run(std::initializer_list<std::uint32_t> arguments = {});
  firmware::Machine& machine() { return machine_; }
  // Throws std::logic_error where no event was run.
  FirmwareRun finish() &&;

 private:
  FirmwareRun record_;
  firmware::Machine machine_;
  std::uint64_t longest_ = 0;
};

}  // namespace portweigh::blocks

// Runs a routine event by event and keeps what `FirmwareRun` wants: the counts of all events, and those of
// the longest one.
//
// "Longest" is the event with the most executed statements and counted branch directions. Since a core class
// may take more cycles for another one, the longest dozen that differ are kept too; the cost model then says
// which takes most on a core. Example:
//   EventRecorder recorder(std::move(routine));
//   for (const auto byte : message) recorder.run({byte});
//   return std::move(recorder).finish();
// Tested by tests/blocks/event_recorder_test.cpp.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <span>
#include <vector>

#include "blocks/kind.hpp"
#include "firmware/execute.hpp"

namespace portweigh::blocks {

class EventRecorder {
 public:
  explicit EventRecorder(firmware::Routine routine);

  // One event; gives what the routine returned.
  std::uint32_t run(std::initializer_list<std::uint32_t> arguments = {});
  firmware::Machine& machine() { return machine_; }
  // Throws std::logic_error where no event was run.
  FirmwareRun finish() &&;

 private:
  FirmwareRun record_;
  firmware::Machine machine_;
  void keep_long(const firmware::Counts& counts);

  struct LongEvent {
    std::uint64_t length;
    firmware::Counts counts;
  };
  static constexpr std::size_t most_kept = 12;
  std::vector<LongEvent> long_events_;  // longest first, all different
};

}  // namespace portweigh::blocks

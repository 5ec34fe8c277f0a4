// Runs a routine event by event and keeps what `FirmwareRun` wants: the counts of all events, those of each path
// that they took, and which took which.
//
// "Longest" is the path with the most executed statements and counted branch directions. Since a core class
// may take more cycles for another one, the longest dozen are kept of a routine with many paths; of one with up
// to `most_paths` all are, with their order. Example:
//   EventRecorder recorder(std::move(routine));
//   for (const auto byte : message) recorder.run({byte});
//   return std::move(recorder).finish();
// Tested by tests/blocks/event_recorder_test.cpp.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <map>
#include <utility>
#include <vector>

#include "blocks/kind.hpp"
#include "firmware/execute.hpp"

namespace portweigh::blocks {

class EventRecorder {
 public:
  static constexpr std::size_t most_paths = 64;

  explicit EventRecorder(firmware::Routine routine);

  // One event; gives what the routine returned.
  std::uint32_t run(std::initializer_list<std::uint32_t> arguments = {});
  firmware::Machine& machine() { return machine_; }
  // Throws std::logic_error where no event was run.
  FirmwareRun finish() &&;

 private:
  // Statements and sites of firmware::Counts.
  using Path = std::pair<std::vector<std::uint64_t>, std::vector<std::uint64_t>>;

  FirmwareRun record_;
  firmware::Machine machine_;
  std::map<Path, std::size_t> found_;  // to a number in order of appearance
  std::vector<std::size_t> order_;
};

}  // namespace portweigh::blocks

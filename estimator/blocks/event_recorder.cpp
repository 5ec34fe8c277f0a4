#include "blocks/event_recorder.hpp"

#include <numeric>
#include <stdexcept>
#include <utility>

namespace portweigh::blocks {
namespace {

std::uint64_t length_of(const firmware::Counts& counts) {
  const auto statements =
      std::accumulate(counts.statements.begin(), counts.statements.end(), std::uint64_t{0});
  return std::accumulate(counts.sites.begin(), counts.sites.end(), statements);
}

}  // namespace

EventRecorder::EventRecorder(firmware::Routine routine, std::string event)
    : record_{std::move(event), std::move(routine), {}, 0, {}}, machine_(record_.routine) {
  record_.counts = machine_.counts();
}

std::uint32_t EventRecorder::run(std::initializer_list<std::uint32_t> arguments) {
  machine_.clear_counts();
  const std::uint32_t result = machine_.run(arguments);
  const firmware::Counts& counts = machine_.counts();
  record_.counts += counts;
  ++record_.events;
  if (const std::uint64_t length = length_of(counts); length > longest_) {
    longest_ = length;
    record_.worst = counts;
  }
  return result;
}

FirmwareRun EventRecorder::finish() && {
  if (record_.events == 0) throw std::logic_error("a routine was recorded without an event");
  return std::move(record_);
}

}  // namespace portweigh::blocks

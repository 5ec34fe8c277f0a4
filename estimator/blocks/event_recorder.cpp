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

EventRecorder::EventRecorder(firmware::Routine routine)
    : record_{std::move(routine), {}, 0, {}}, machine_(record_.routine) {
  record_.counts = machine_.counts();
}

std::uint32_t EventRecorder::run(std::initializer_list<std::uint32_t> arguments) {
  machine_.clear_counts();
  const std::uint32_t result = machine_.run(arguments);
  const firmware::Counts& counts = machine_.counts();
  record_.counts += counts;
  ++record_.events;
  keep_long(counts);
  return result;
}

void EventRecorder::keep_long(const firmware::Counts& counts) {
  const std::uint64_t length = length_of(counts);
  if (long_events_.size() == most_kept && length <= long_events_.back().length) return;
  auto at = long_events_.begin();
  while (at != long_events_.end() && at->length >= length) {
    if (at->counts.statements == counts.statements && at->counts.sites == counts.sites) return;
    ++at;
  }
  long_events_.insert(at, {length, counts});
  if (long_events_.size() > most_kept) long_events_.pop_back();
}

FirmwareRun EventRecorder::finish() && {
  if (record_.events == 0) throw std::logic_error("a routine was recorded without an event");
  record_.worst = std::move(long_events_.front().counts);
  for (std::size_t i = 1; i < long_events_.size(); ++i) {
    record_.long_events.push_back(std::move(long_events_[i].counts));
  }
  return std::move(record_);
}

}  // namespace portweigh::blocks

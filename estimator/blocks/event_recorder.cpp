#include "blocks/event_recorder.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace portweigh::blocks {
namespace {

// Of a routine with many paths.
constexpr std::size_t longest_kept = 12;

std::uint64_t length_of(const firmware::Counts& counts) {
  const auto statements =
      std::accumulate(counts.statements.begin(), counts.statements.end(), std::uint64_t{0});
  return std::accumulate(counts.sites.begin(), counts.sites.end(), statements);
}

}  // namespace

EventRecorder::EventRecorder(firmware::Routine routine)
    : record_{std::move(routine), {}, 0}, machine_(record_.routine) {
  record_.counts = machine_.counts();
}

std::uint32_t EventRecorder::run(std::initializer_list<std::uint32_t> arguments) {
  machine_.clear_counts();
  const std::uint32_t result = machine_.run(arguments);
  const firmware::Counts& counts = machine_.counts();
  record_.counts += counts;
  ++record_.events;
  const auto [path, is_new] = found_.try_emplace(Path{counts.statements, counts.sites}, found_.size());
  if (is_new) record_.paths.push_back(counts);
  order_.push_back(path->second);
  return result;
}

FirmwareRun EventRecorder::finish() && {
  if (record_.events == 0) throw std::logic_error("a routine was recorded without an event");
  std::vector<firmware::Counts>& paths = record_.paths;
  std::vector<std::size_t> by_length(paths.size());
  std::iota(by_length.begin(), by_length.end(), std::size_t{0});
  std::stable_sort(by_length.begin(), by_length.end(),
                   [&](std::size_t a, std::size_t b) { return length_of(paths[a]) > length_of(paths[b]); });
  const bool are_many = paths.size() > most_paths;
  by_length.resize(are_many ? longest_kept : paths.size());
  std::vector<firmware::Counts> kept;
  std::vector<std::uint16_t> place(paths.size());
  for (const std::size_t path : by_length) {
    place[path] = static_cast<std::uint16_t>(kept.size());
    kept.push_back(std::move(paths[path]));
  }
  paths = std::move(kept);
  for (std::size_t i = 0; i < order_.size() && !are_many; ++i) record_.order.push_back(place[order_[i]]);
  return std::move(record_);
}

}  // namespace portweigh::blocks

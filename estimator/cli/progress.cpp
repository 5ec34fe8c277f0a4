#include "cli/progress.hpp"

#include <chrono>
#include <ostream>

namespace portweigh::cli {

Progress::Progress(std::ostream& errors, std::string what)
    : errors_(errors), what_(std::move(what)), thread_([this] { show(); }) {}

Progress::~Progress() {
  {
    const std::lock_guard lock(mutex_);
    over_ = true;
  }
  is_over_.notify_all();
  thread_.join();
}

void Progress::show() {
  const auto start = std::chrono::steady_clock::now();
  std::unique_lock lock(mutex_);
  int seconds = 0;
  while (!is_over_.wait_until(lock, start + std::chrono::seconds(seconds + 1), [this] { return over_; })) {
    ++seconds;
    errors_ << "\r" << what_ << ": at work for " << seconds << " s" << std::flush;
  }
  // To the start of the line, and clear it (ECMA-48, erase in line).
  if (seconds > 0) errors_ << "\r\x1b[K" << std::flush;
}

}  // namespace portweigh::cli

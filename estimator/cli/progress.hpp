// Tells a waiting user that the program is at work: after a second a line on a terminal, counting seconds,
// which is gone when the work is done.
//
// Tested by tests/project/progress_test.cpp.
#pragma once

#include <condition_variable>
#include <iosfwd>
#include <mutex>
#include <string>
#include <thread>

namespace portweigh::cli {

class Progress {
 public:
  // `what` is shown; `errors` must outlive the object and not be written by others meanwhile.
  Progress(std::ostream& errors, std::string what);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

 private:
  void show();

  std::ostream& errors_;
  std::string what_;
  std::mutex mutex_;
  std::condition_variable is_over_;
  bool over_ = false;
  std::thread thread_;
};

}  // namespace portweigh::cli

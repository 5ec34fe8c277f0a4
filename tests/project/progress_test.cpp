#include "cli/progress.hpp"

#include <catch2/catch.hpp>
#include <chrono>
#include <sstream>
#include <thread>

using portweigh::cli::Progress;

TEST_CASE("short work shows nothing; longer work shows a line that is gone at the end") {
  std::ostringstream errors;
  { const Progress progress(errors, "rank"); }
  CHECK(errors.str().empty());
  {
    const Progress progress(errors, "rank");
    std::this_thread::sleep_for(std::chrono::milliseconds(1300));
  }
  CHECK_THAT(errors.str(), Catch::StartsWith("\rrank: at work for 1 s") && Catch::EndsWith("\r\x1b[K"));
}

// Figures recomputed by programs that know neither portweigh's formulas nor its ledger.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

#include "program_fixture.hpp"

using namespace portweigh::tests;

namespace {

const std::string python = "python3 '" PORTWEIGH_TESTS_DIR "/reference/";

// The demo as `report` saves it; gone with its test.
class DemoRun {
 public:
  DemoRun() { REQUIRE(run_program({"report", demo, "--samples", "64", "--output", path()}).code == 0); }
  ~DemoRun() { std::filesystem::remove(path()); }
  DemoRun(const DemoRun&) = delete;
  DemoRun& operator=(const DemoRun&) = delete;

  std::string path() const { return std::filesystem::temp_directory_path() / "portweigh_recompute_run.json"; }
};

}  // namespace

// Fails where python3 is not installed (Debian: python3).
TEST_CASE("Every figure of all options of the demo follows from catalog, study and counts", "[long]") {
  const DemoRun run;
  const std::string command =
      python + "recompute.py' '" + run.path() + "' '" + demo + "' '" PORTWEIGH_CATALOG_DIR "'";
  CHECK(std::system(command.c_str()) == 0);
}

TEST_CASE("The worked example's inputs, steps and results hold", "[long]") {
  const DemoRun run;
  const std::string command = python + "worked_example.py' '" + run.path() + "' '" PORTWEIGH_SOURCE_DIR "'";
  CHECK(std::system(command.c_str()) == 0);
}

// Figures recomputed by a program that knows neither portweigh's formulas nor its ledger.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

#include "program_fixture.hpp"

using namespace portweigh::tests;

// Fails where python3 is not installed (Debian: python3).
TEST_CASE("Power, heat and unit cost of all options of the demo follow from catalog, study and counts", "[long]") {
  const auto run = std::filesystem::temp_directory_path() / "portweigh_recompute_run.json";
  REQUIRE(run_program({"report", demo, "--samples", "64", "--output", run.string()}).code == 0);
  const std::string command = "python3 '" PORTWEIGH_TESTS_DIR "/reference/recompute.py' '" + run.string() +
                              "' '" + demo + "' '" PORTWEIGH_CATALOG_DIR "'";
  CHECK(std::system(command.c_str()) == 0);
  std::filesystem::remove(run);
}

// What is wrong with a file of measured results is told with its place.
#include "exploration/measured_file.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "demo_study_fixture.hpp"

using namespace portweigh;
using namespace portweigh::exploration;

namespace {

Measured read(const std::string& text) {
  const auto file = std::filesystem::temp_directory_path() / "measured.toml";
  std::ofstream(file) << text;
  return read_measured(file, tests::demo_study().catalog);
}

std::string mistakes(const std::string& text) {
  try {
    (void)read(text);
  } catch (const reading::InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("the invented results of the demo are read") {
  const auto file = std::filesystem::path(PORTWEIGH_STUDIES_DIR) / "measured" / "first-boards.toml";
  const Measured measured = read_measured(file, tests::demo_study().catalog);
  CHECK(measured.logic.size() == 3);
  CHECK(measured.logic[0].use.settings.integer("width") == 32);
  CHECK(measured.logic[0].luts == 56);
  CHECK(measured.firmware.size() == 2);
  CHECK(measured.firmware[0].cycles == 31.0);
  CHECK_FALSE(measured.firmware[1].code_bytes);
  REQUIRE(measured.figures.size() == 1);
  CHECK(measured.figures[0].value_si == Approx(4.9e-3));
  CHECK(measured.studies.size() == 1);
}

TEST_CASE("mistakes are told with their places, all at once") {
  CHECK_THAT(mistakes("name = \"x\"\n"), Catch::Contains("nothing is measured"));
  const std::string text = mistakes(
      "name = \"x\"\n[[synthesis]]\nblock = \"crcc\"\nlut_inputs = 9\nluts = 5\n[[firmware]]\nblock = "
      "\"crc\"\ncore = \"32-bit-two-stag\"\n[[bench]]\nstudy = \"nowhere.toml\"\noption = \"a\"\nfigure = "
      "\"active_power\"\nmeasured = \"5 s\"\ninput = \"b\"\nwhy = 1\n");
  CHECK_THAT(text, Catch::Contains("measured.toml:3:9: unknown block kind \"crcc\""));
  CHECK_THAT(text, Catch::Contains("measured.toml:4:14:"));
  CHECK_THAT(text, Catch::Contains("nearest: \"32-bit-two-stage\""));
  CHECK_THAT(text, Catch::Contains("no file "));
  CHECK_THAT(text, Catch::Contains("which is time"));
  CHECK_THAT(text, Catch::Contains("unknown key \"why\""));
  CHECK_THAT(mistakes("name = \"x\"\n[[firmware]]\nblock = \"crc\"\ncore = \"8-bit-two-stage\"\n"),
             Catch::Contains("neither cycles nor code_bytes"));
  CHECK_THAT(mistakes("name = \"x\"\n[[synthesis]]\nblock = \"crc\"\nlut_inputs = 4\nluts = -5\n"),
             Catch::Contains("measured.toml:5:8:"));
}

// Where files lie on this machine is nobody's business: no result holds it.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "program_fixture.hpp"

using Catch::Contains;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;
namespace fs = std::filesystem;

namespace {

const std::string project = PORTWEIGH_SOURCE_DIR;

// As from a shell that stands in `/`, with a folder for what is written.
class FromRoot {
 public:
  FromRoot() : before_(fs::current_path()), folder_(fs::temp_directory_path() / "portweigh-told-places") {
    fs::create_directories(folder_);
    fs::current_path("/");
  }
  ~FromRoot() {
    fs::current_path(before_);
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  FromRoot(const FromRoot&) = delete;
  FromRoot& operator=(const FromRoot&) = delete;

  std::string report(const std::string& ending) const {
    const std::string file = (folder_ / ("run" + ending)).string();
    REQUIRE(run_program({"report", demo, "--output", file, "--samples", "64"}).code == 0);
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  }

 private:
  fs::path before_;
  fs::path folder_;
};

std::string printed(const std::vector<std::string>& arguments) {
  const Outcome outcome = run_program(arguments);
  REQUIRE(outcome.code == 0);
  return outcome.out;
}

}  // namespace

TEST_CASE("Reports and saved runs name files from the catalog's and the study's folder", "[long]") {
  const FromRoot here;
  for (const std::string ending : {".json", ".html", ".md", ".csv"}) {
    const std::string text = here.report(ending);
    INFO(ending);
    CHECK(text.find(project) == std::string::npos);
    CHECK(text.find("catalog/microcontrollers/") != std::string::npos);
    CHECK(text.find("flow-meter.toml") != std::string::npos);
  }
}

TEST_CASE("Printed results name them so, too, and mistakes as they were typed", "[long]") {
  const FromRoot here;
  const std::vector<std::string> explain = {"explain",    demo,       "--option",
                                            "pl-flash-d", "--figure", "active_power"};
  const std::string text = printed(explain);
  CHECK_THAT(text, Contains("<- catalog/programmable-logic/pl-flash-d.toml:") && !Contains(project));
  auto as_json = explain;
  as_json.emplace_back("--json");
  CHECK_THAT(printed(as_json),
             Contains("\"catalog/programmable-logic/pl-flash-d.toml\"") && !Contains(project));
  CHECK_THAT(printed({"rank", demo, "--samples", "64", "--all"}), !Contains(project));
  CHECK_THAT(printed({"rank", demo, "--samples", "64", "--json"}), !Contains(project));
  const std::string measured = PORTWEIGH_STUDIES_DIR "/measured/first-boards.toml";
  CHECK_THAT(printed({"calibrate", measured}), Contains("for catalog/spreads.toml") && !Contains(project));
  CHECK_THAT(printed({"calibrate", measured, "--json"}), !Contains(project));
  const Outcome wrong = run_program({"rank", project + "/catalog/effort.toml"});
  CHECK(wrong.code == 2);
  CHECK_THAT(wrong.errors, Contains(project + "/catalog/effort.toml:"));
}

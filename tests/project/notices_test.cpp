// Every verb that recommends carries the cautions, and the parts that the study leaves out, with its reasons.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "program_fixture.hpp"

using Catch::Contains;
using nlohmann::json;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;
namespace fs = std::filesystem;

namespace {

using Words = std::vector<std::string>;

const std::string printer = PORTWEIGH_STUDIES_DIR "/label-printer-frozen.toml";
const std::string out_of_study =
    "Left out by the study: ff-dual-role, ff-lanes: made for more ports than the printer has";

std::string printed(const Words& arguments) {
  const Outcome outcome = run_program(arguments);
  INFO(outcome.errors);
  REQUIRE(outcome.code == 0);
  return outcome.out;
}

std::string unwrapped(std::string text) {
  for (std::size_t at = text.find("\n  "); at != std::string::npos; at = text.find("\n  ", at))
    text.replace(at, 3, " ");
  return text;
}

void check_carries(Words arguments) {
  INFO(arguments[0]);
  const std::string text = unwrapped(printed(arguments));
  CHECK_THAT(text, Contains(out_of_study));
  CHECK_THAT(text, Contains("Early estimates") && Contains("240 W") && Contains("batteries") &&
                       Contains("data sheets") && Contains("safety standards") && Contains("local codes") &&
                       Contains("licensed practice") && Contains("Invented"));
  arguments.emplace_back("--json");
  const json result = json::parse(printed(arguments));
  CHECK(result["cautions"].size() == 3);
  CHECK(result["excluded"] == json::parse(R"([
    {"id": "ff-dual-role", "reason": "made for more ports than the printer has"},
    {"id": "ff-lanes", "reason": "made for more ports than the printer has"}])"));
}

}  // namespace

TEST_CASE("Every verb that recommends carries cautions and exclusions, as text and as JSON", "[long]") {
  check_carries({"rank", printer, "--samples", "64"});
  check_carries({"sweep", printer, "--over", "duty_cycle=0.01:0.1:2"});
  check_carries({"crossover", printer, "--over", "duty_cycle=0.01:0.1"});
  check_carries({"sensitivity", printer, "--samples", "64"});
  check_carries({"break-even", printer});
}

TEST_CASE("So do a family and a comparison", "[long]") {
  const fs::path folder = fs::temp_directory_path() / "portweigh-notices";
  fs::create_directories(folder);
  const std::string family = (folder / "family.toml").string();
  std::ofstream(family)
      << "name = \"printers\"\nsummary = \"one\"\n[[product]]\nname = \"frozen\"\nstudy = \"" << printer
      << "\"\n";
  check_carries({"family", family});
  const std::string run = (folder / "run.json").string();
  (void)printed({"report", printer, "--output", run, "--samples", "64"});
  check_carries({"compare", run, run});
  fs::remove_all(folder);
}

TEST_CASE("A study that leaves nothing out says nothing of it", "[long]") {
  CHECK_THAT(printed({"rank", demo, "--samples", "64"}), !Contains("Left out by the study"));
  CHECK(json::parse(printed({"rank", demo, "--samples", "64", "--json"}))["excluded"].empty());
}

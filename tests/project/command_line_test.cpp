// The program as its user meets it: exit codes, messages, and the JSON that outside checks rely on.
#include "program_fixture.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

using nlohmann::json;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;
namespace fs = std::filesystem;

namespace {

// A file with the given text, gone at the end of the test.
class TemporaryFile {
 public:
  TemporaryFile(const std::string& name, const std::string& text)
      : path_(fs::temp_directory_path() / ("portweigh-test-" + name)) {
    std::ofstream(path_) << text;
  }
  ~TemporaryFile() { fs::remove(path_); }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  std::string path() const { return path_.string(); }

 private:
  fs::path path_;
};

std::string demo_text_with(const std::string& from, const std::string& to) {
  std::ifstream file(demo);
  std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const auto position = text.find(from);
  REQUIRE(position != std::string::npos);
  return text.replace(position, from.size(), to);
}

}  // namespace

TEST_CASE("Help of every verb shows an example and ends well") {
  for (const std::string verb :
       {"rank", "block", "check", "list", "explain", "sweep", "crossover", "sensitivity"}) {
    const Outcome help = run_program({verb, "--help"});
    INFO(verb);
    CHECK(help.code == 0);
    CHECK(help.out.find("portweigh " + verb) != std::string::npos);
    CHECK(help.errors.empty());
  }
}

TEST_CASE("Wrong usage exits with 2 and says so on the error stream") {
  CHECK(run_program({}).code == 2);
  CHECK(run_program({"weigh"}).code == 2);
  CHECK(run_program({"rank"}).code == 2);
  const Outcome missing = run_program({"rank", "no-such-study.toml"});
  CHECK(missing.code == 2);
  CHECK(missing.out.empty());
  CHECK(missing.errors.find("no-such-study.toml") != std::string::npos);
}

TEST_CASE("A CRC block is counted in the shape of the contract") {
  const Outcome outcome = run_program({"block", "crc", "--set", "width=32", "--set", "polynomial=0x04C11DB7",
                                       "--set", "bits_per_clock=8", "--lut-inputs", "4", "--json"});
  REQUIRE(outcome.code == 0);
  const json block = json::parse(outcome.out);
  CHECK(block["block"] == "crc");
  CHECK(block["settings"]["width"] == 32);
  const json& logic = block["logic"];
  CHECK(logic["lut_inputs"] == 4);
  CHECK(logic["carry_chain"] == false);
  CHECK(logic["registers"] == 32);
  CHECK(logic["luts"] > 30);
  CHECK(logic["luts"] < 100);
  CHECK(logic["low"]["luts"] <= logic["luts"]);
  CHECK(logic["high"]["luts"] >= logic["luts"]);
  const json& firmware = block["firmware"];
  CHECK(firmware["event"] == "byte");
  CHECK(firmware["cycles"]["low"] <= firmware["cycles"]["typical"]);
  CHECK(firmware["cycles"]["typical"] <= firmware["cycles"]["high"]);
}

TEST_CASE("The method of a CRC is chosen by its setting") {
  double fastest = 0;
  for (const std::string method : {"byte-table", "nibble-table", "bitwise"}) {
    const Outcome outcome =
        run_program({"block", "crc", "--set", "method=" + method, "--core", "8-bit-two-stage", "--json"});
    REQUIRE(outcome.code == 0);
    const double cycles = json::parse(outcome.out)["firmware"]["cycles"]["typical"];
    INFO(method);
    CHECK(cycles > fastest);
    fastest = cycles;
  }
}

TEST_CASE("Mistakes in a block's settings name the nearest valid one") {
  const Outcome kind = run_program({"block", "crcc"});
  CHECK(kind.code == 2);
  CHECK(kind.errors.find("nearest: \"crc\"") != std::string::npos);
  const Outcome setting = run_program({"block", "crc", "--set", "widht=16"});
  CHECK(setting.code == 2);
  CHECK(setting.errors.find("width") != std::string::npos);
  const Outcome core = run_program({"block", "crc", "--core", "8-bit-two-stages"});
  CHECK(core.code == 2);
  CHECK(core.errors.find("8-bit-two-stage") != std::string::npos);
}

TEST_CASE("Every kind of block runs with its defaults") {
  const json listed = json::parse(run_program({"list", "blocks", "--json"}).out);
  CHECK(listed["blocks"].size() >= 17);
  for (const json& kind : listed["blocks"]) {
    const std::string name = kind["kind"];
    INFO(name);
    const Outcome outcome = run_program({"block", name, "--json"});
    CHECK(outcome.code == 0);
    CHECK_NOTHROW(json::parse(outcome.out));
  }
}

TEST_CASE("Ranking the demo follows the contract and is the same twice") {
  const Outcome first = run_program({"rank", demo, "--json", "--samples", "512"});
  REQUIRE(first.code == 0);
  CHECK(run_program({"rank", demo, "--json", "--samples", "512", "--threads", "3"}).out == first.out);
  const json run = json::parse(first.out);
  CHECK(run["samples"] == 512);
  REQUIRE(run["options"].size() >= 12);
  unsigned rank = 0;
  std::size_t others = 0;
  for (const json& option : run["options"]) {
    INFO(option["id"]);
    CHECK(option["rank"] == ++rank);
    CHECK(option["assignment"].size() > 10);
    for (const char* key :
         {"logic_cells", "clock_rate", "active_power", "average_power", "standby_power", "unit_cost",
          "cost_per_unit_over_life", "one_time_cost", "junction_temperature"}) {
      REQUIRE(option["figures"].contains(key));
      const json& figure = option["figures"][key];
      CHECK(figure["low"] <= figure["high"]);
    }
    CHECK(option["figures"]["active_power"]["unit"] == "W");
    CHECK(option["figures"]["clock_rate"]["unit"] == "Hz");
    CHECK(option["figures"]["unit_cost"]["unit"] == "USD");
    CHECK(option["figures"]["junction_temperature"]["unit"] == "degC");
    CHECK_FALSE(option["budgets"].empty());
    CHECK(option["probability_meets_budgets"] >= 0.0);
    CHECK(option["probability_meets_budgets"] <= 1.0);
    if (!option["other_settings"].empty()) CHECK_FALSE(option["setting"] == "");
    for (const json& other : option["other_settings"]) {
      ++others;
      CHECK_FALSE(other["setting"] == option["setting"]);
      CHECK(other["active_power"] > 0.0);
      CHECK(other["average_power"] > 0.0);
      if (other["meets_budgets"] == true) CHECK(option["meets_budgets"] == true);
    }
  }
  CHECK(others > 10);
  for (const json& rejection : run["rejected"]) CHECK_FALSE(rejection["reason"].get<std::string>().empty());
}

TEST_CASE("A derivation ends at lines of the catalog", "[long]") {
  const json run = json::parse(run_program({"rank", demo, "--json", "--samples", "64"}).out);
  std::string id;
  for (const json& option : run["options"]) {
    if (option["kind"] == "programmable-logic") id = option["id"];
  }
  REQUIRE_FALSE(id.empty());
  const Outcome outcome = run_program({"explain", demo, "--option", id, "--figure", "active_power"});
  REQUIRE(outcome.code == 0);
  CHECK(outcome.out.find("active_power") != std::string::npos);
  CHECK(outcome.out.find(id + ".toml:") != std::string::npos);
  CHECK(outcome.out.find("flow-meter.toml:") != std::string::npos);
  const Outcome unknown = run_program({"explain", demo, "--option", id, "--figure", "activ_power"});
  CHECK(unknown.code == 2);
  CHECK(unknown.errors.find("active_power") != std::string::npos);
}

TEST_CASE("Every mistake of a study is told in one run, with place and expectation") {
  std::string text =
      demo_text_with("supply_voltage = { low = \"3.2 V\"", "supply_voltage = { low = \"3.2 A\"");
  text += "\n[colour]\nname = \"blue\"\n";
  const TemporaryFile file("mistakes.toml", text);
  const Outcome outcome = run_program({"check", file.path()});
  CHECK(outcome.code == 2);
  CHECK(outcome.errors.find(file.path() + ":") != std::string::npos);
  CHECK(outcome.errors.find("voltage") != std::string::npos);
  CHECK(outcome.errors.find("colour") != std::string::npos);
}

TEST_CASE("A part without a price at the study's volume is bad input") {
  const TemporaryFile file("small-volume.toml",
                           demo_text_with("volume_per_year = { low = 15000, typical = 40000, high = 70000",
                                          "volume_per_year = { low = 2, typical = 3, high = 4"));
  const Outcome outcome = run_program({"rank", file.path()});
  CHECK(outcome.code == 2);
  CHECK(outcome.errors.find("no price of") != std::string::npos);
  CHECK(outcome.errors.find(".toml:") != std::string::npos);
}

TEST_CASE("Only --require-fit turns a study without a fitting option into exit code 1", "[long]") {
  const TemporaryFile file("tight.toml", demo_text_with("limit = \"12 mW\"", "limit = \"1 nW\""));
  CHECK(run_program({"rank", file.path(), "--samples", "64"}).code == 0);
  CHECK(run_program({"rank", file.path(), "--samples", "64", "--require-fit"}).code == 1);
}

TEST_CASE("Sweep and crossover read their ranges and agree beside the crossing") {
  const Outcome swept = run_program({"sweep", demo, "--over", "duty_cycle=0.001:1:5:log"});
  REQUIRE(swept.code == 0);
  CHECK(swept.out.find("duty_cycle") != std::string::npos);
  const Outcome wrong = run_program({"sweep", demo, "--over", "duty_cicle=0.001:1"});
  CHECK(wrong.code == 2);
  CHECK(wrong.errors.find("nearest: \"duty_cycle\"") != std::string::npos);
  CHECK(run_program({"crossover", demo, "--over", "duty_cycle=0.0001:1:2:log", "--json"}).code == 0);
}

TEST_CASE("Fixed function wins while the standard is frozen and loses where it is likely to change",
          "[long]") {
  const std::string frozen = PORTWEIGH_STUDIES_DIR "/label-printer-frozen.toml";
  const Outcome outcome =
      run_program({"crossover", frozen, "--over", "revision.policy-change.chance=0:1", "--json"});
  REQUIRE(outcome.code == 0);
  const json result = json::parse(outcome.out);
  REQUIRE(result["crossovers"].size() >= 1);
  const json& first = result["crossovers"][0];
  CHECK(first["leader_below"] == "ff-sink");
  CHECK(first["leader_above"] != "ff-sink");
  const double typical = 0.01;  // of the frozen standard's study
  CHECK(first["below"].get<double>() > typical);
  const json ranked =
      json::parse(run_program({"rank", PORTWEIGH_STUDIES_DIR "/label-printer-changing.toml", "--json"}).out);
  CHECK(ranked["options"][0]["kind"] != "fixed-function");
}

TEST_CASE("A family and break-even print what was chosen, as text and as JSON") {
  const std::string family = PORTWEIGH_STUDIES_DIR "/families/shop-instruments.toml";
  const Outcome text = run_program({"family", family});
  CHECK(text.code == 0);
  CHECK(text.out.find("Optimum of the family") != std::string::npos);
  const json chosen = json::parse(run_program({"family", family, "--json"}).out);
  CHECK(chosen["products"].size() == 3);
  CHECK(chosen["family_cost"].get<double>() <= chosen["alone_shared_cost"].get<double>());
  CHECK(run_program({"family", "no-such-family.toml"}).code == 2);
  CHECK(run_program({"check", family}).code == 0);

  const json even = json::parse(run_program({"break-even", demo, "--json"}).out);
  CHECK(even["cheapest"].is_string());
  REQUIRE(even["options"].size() > 3);
  CHECK(even["options"][0].contains("break_even_volumes"));
  CHECK(run_program({"break-even", demo}).out.find("would win with") != std::string::npos);
}

// The clock of least power, 70.4 MHz, has more than is needed; the ranking's rule takes a slower one.
TEST_CASE("A family lists its options at the clock that the ranking takes") {
  std::string study = demo_text_with("currency =", "only_parts = [\"mcu-32b-fast\"]\ncurrency =");
  const std::string hard = "\"hard\"";
  for (auto at = study.find(hard); at != std::string::npos; at = study.find(hard)) {
    study.replace(at, hard.size(), "\"wish\"");
  }
  const TemporaryFile meter("meter.toml", study);
  const TemporaryFile family(
      "family-of-one.toml",
      "name = \"one\"\nsummary = \"one\"\n[[product]]\nname = \"meter\"\nstudy = \"" + meter.path() + "\"\n");
  const json ranked = json::parse(run_program({"rank", meter.path(), "--json"}).out);
  const json chosen = json::parse(run_program({"family", family.path(), "--json"}).out);
  REQUIRE(ranked["options"].size() == 1);
  REQUIRE(chosen["products"].size() == 1);
  REQUIRE_FALSE(ranked["options"][0]["other_settings"].empty());
  CHECK(chosen["products"][0]["option"] == "mcu-32b-fast");
  CHECK(chosen["products"][0]["setting"] == ranked["options"][0]["setting"]);
}

TEST_CASE("calibrate refits to measured results") {
  const std::string measured = PORTWEIGH_STUDIES_DIR "/measured/first-boards.toml";
  const Outcome text = run_program({"calibrate", measured});
  CHECK(text.code == 0);
  CHECK_THAT(text.out, Catch::Contains("[luts.crc]") && Catch::Contains("would have to be"));
  const json result = json::parse(run_program({"calibrate", measured, "--json"}).out);
  CHECK(result["classes"].size() == 4);
  CHECK(result["coefficients"][0]["after"].get<double>() > 0);
  CHECK(run_program({"calibrate", "nowhere.toml"}).code == 2);
}

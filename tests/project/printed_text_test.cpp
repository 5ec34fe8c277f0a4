// What the verbs print for people: tables that fit a terminal and name what the JSON names.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "program_fixture.hpp"

using Catch::Contains;
using nlohmann::json;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;

namespace {

// Columns, not bytes: continuation bytes of UTF-8 take none.
std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) {
    const auto columns = std::count_if(
        line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    widest = std::max(widest, static_cast<std::size_t>(columns));
  }
  return widest;
}

}  // namespace

TEST_CASE("The ranking's text fits 80 columns and names the leader of the JSON", "[long]") {
  const std::vector<std::string> rank = {"rank", demo, "--samples", "64"};
  const Outcome text = run_program(rank);
  REQUIRE(text.code == 0);
  CHECK(widest_line(text.out) <= 80);
  const json run = json::parse(run_program({"rank", demo, "--samples", "64", "--json"}).out);
  CHECK_THAT(text.out, Contains(run["options"][0]["id"].get<std::string>()));
  // Rejections are listed only with --all, each with its id.
  const Outcome all = run_program({"rank", demo, "--samples", "64", "--all"});
  CHECK(widest_line(all.out) <= 80);
  REQUIRE_FALSE(run["rejected"].empty());
  const std::string rejected = run["rejected"][0]["id"];
  CHECK_THAT(all.out, Contains(rejected));
  CHECK(all.out.size() > text.out.size());
}

TEST_CASE("Reasons fit 80 columns where ids are longer than that", "[long]") {
  const std::string lanes = PORTWEIGH_STUDIES_DIR "/audio-mixer-display-lanes.toml";
  const Outcome all = run_program({"rank", lanes, "--samples", "64", "--all"});
  REQUIRE(all.code == 0);
  const auto run = json::parse(run_program({"rank", lanes, "--samples", "64", "--json"}).out);
  const auto is_long = [](const json& option) { return option["id"].get<std::string>().size() > 80; };
  CHECK(std::any_of(run["options"].begin(), run["options"].end(), is_long));
  CHECK(widest_line(all.out) <= 80);
}

TEST_CASE("Lists of inputs and figures name each once, in order, with unit or range", "[long]") {
  for (const std::string what : {"inputs", "figures"}) {
    CAPTURE(what);
    const json listed = json::parse(run_program({"list", what, demo, "--json"}).out)[what];
    REQUIRE(listed.size() > 20);
    const std::string key = what == "inputs" ? "input" : "figure";
    for (std::size_t i = 1; i < listed.size(); ++i) {
      CHECK(listed[i - 1][key].get<std::string>() < listed[i][key].get<std::string>());
    }
    const Outcome text = run_program({"list", what, demo});
    CHECK_THAT(text.out, Catch::StartsWith(key));
    CHECK_THAT(text.out, Contains(listed.back()[key].get<std::string>()));
  }
  CHECK(run_program({"list", "inputs"}).code == 2);
}

TEST_CASE("The text of a block shows logic and firmware counts of its JSON") {
  const json block = json::parse(run_program({"block", "crc", "--json"}).out);
  const Outcome text = run_program({"block", "crc"});
  CHECK_THAT(text.out, Contains("LUTs") && Contains(block["logic"]["luts"].dump()));
  CHECK_THAT(text.out, Contains("Firmware on 32-bit-two-stage, for each byte"));
  CHECK_THAT(run_program({"block", "crc", "--set", "width=16", "--set", "polynomial=0x1021"}).out,
             Contains("initial=0xffff\n") && Contains("final=0xffff "));
  CHECK_THAT(run_program({"block", "line-code"}).out, Contains("bit_rate=300 kHz"));
  CHECK_THAT(text.out, Contains(block["firmware"]["code_bytes"].dump()));
  CHECK(widest_line(text.out) <= 80);
}

TEST_CASE("The list of blocks names every kind with its settings") {
  const json listed = json::parse(run_program({"list", "blocks", "--json"}).out);
  const std::string text = run_program({"list", "blocks"}).out;
  for (const json& kind : listed["blocks"]) CHECK_THAT(text, Contains(kind["kind"].get<std::string>()));
  CHECK_THAT(text, Contains("polynomial") && Contains("oversampling"));
  CHECK(widest_line(text) <= 80);
}

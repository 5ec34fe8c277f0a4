// The verbs that explore, as their user meets them.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "program_fixture.hpp"

using nlohmann::json;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;

namespace {

json ask_json(std::vector<std::string> words) {
  words.emplace_back("--json");
  const Outcome answer = run_program(words);
  REQUIRE(answer.code == 0);
  return json::parse(answer.out);
}

std::string first_of_kind(const std::string& kind) {
  static const json ranked = ask_json({"rank", demo, "--samples", "64"});
  for (const json& option : ranked["options"]) {
    if (option["kind"] == kind) return option["id"];
  }
  return "";
}

}  // namespace

TEST_CASE("Microcontroller against programmable logic: the crossing in duty cycle holds just beside it",
          "[long]") {
  const std::string controller = first_of_kind("microcontroller");
  const std::string logic = first_of_kind("programmable-logic");
  const json found = ask_json({"crossover", demo, "--over", "duty_cycle=0.0001:1:2:log", "--figure",
                               "average_power", "--only", controller, "--only", logic});
  REQUIRE(found["crossovers"].size() >= 1);
  const json& crossing = found["crossovers"][0];
  const double below = crossing["below"].get<double>() * (1 - 1e-6);
  const double above = crossing["above"].get<double>() * (1 + 1e-6);
  std::ostringstream range;
  range.precision(17);
  range << "duty_cycle=" << below << ":" << above << ":2";
  const json beside = ask_json({"sweep", demo, "--over", range.str(), "--figure", "average_power", "--only",
                                controller, "--only", logic});
  REQUIRE(beside["options"].size() == 2);
  for (const std::size_t end : {0U, 1U}) {
    const json& values = beside["points"][end]["values"];
    const std::size_t least = values[0].get<double>() < values[1].get<double>() ? 0 : 1;
    CHECK(beside["options"][least] == crossing[end == 0 ? "leader_below" : "leader_above"]);
  }
  // A sleeping microcontroller takes less, a busy one more.
  CHECK(crossing["leader_below"] == controller);
  CHECK(crossing["leader_above"] == logic);
}

TEST_CASE("A two-way sweep prints the winner map and a table") {
  const Outcome answer = run_program(
      {"sweep", demo, "--over", "clock_rate=1MHz:64MHz:4:log", "--over", "duty_cycle=0.001:1:9:log"});
  REQUIRE(answer.code == 0);
  CHECK(answer.out.find("down: clock_rate; across: duty_cycle from 0.001 to 1") != std::string::npos);
  CHECK(answer.out.find("no option is feasible") != std::string::npos);
  CHECK(answer.out.find(
            "\n---- CSV, one row for each point and option ----\nclock_rate [MHz],duty_cycle [1],option,"
            "average_power [W],feasible,leads\r\n") != std::string::npos);
  // One row for each point and option, after the map.
  std::size_t rows = 0;
  for (std::size_t at = answer.out.find("\r\n"); at != std::string::npos;
       at = answer.out.find("\r\n", at + 1)) {
    ++rows;
  }
  const json same = ask_json(
      {"sweep", demo, "--over", "clock_rate=1MHz:64MHz:4:log", "--over", "duty_cycle=0.001:1:9:log"});
  CHECK(rows == 1 + 4 * 9 * same["options"].size());
}

TEST_CASE("What is wrong with an exploration is said, with exit code 2", "[long]") {
  const auto errors_of = [](const std::vector<std::string>& words) {
    const Outcome answer = run_program(words);
    CHECK(answer.code == 2);
    return answer.errors;
  };
  CHECK(errors_of({"crossover", demo, "--over", "duty_cycle=0.1:1", "--only", "no-such-option"})
            .starts_with("--only: unknown option \"no-such-option\", nearest: "));
  CHECK(errors_of({"crossover", demo, "--over", "function.oversampling=4.5:9:3"}) ==
        "--over: function.oversampling: 4.5 is no whole number from 4 to 64\n");
  CHECK(errors_of({"crossover", demo, "--over", "duty_cycle=0.1:1", "--figure", "avrage_power"})
            .find("nearest: \"average_power\"") != std::string::npos);
  CHECK(errors_of({"sweep", demo, "--over", "duty_cycle=1:0.1"}) ==
        "--over: duty_cycle: expected FROM below TO\n");
}

TEST_CASE("Sensitivity among chosen options: drivers, flips, and what is worth knowing") {
  const std::string logic = first_of_kind("programmable-logic");
  const json result = ask_json({"sensitivity", demo, "--option", logic, "--only", logic, "--only",
                                "ff-dual-role", "--samples", "1024"});
  CHECK(result["option"] == logic);
  CHECK(result["figures"].size() >= 5);
  const json& information = result["information"];
  CHECK(information["everything"].get<double>() > 0);
  REQUIRE(information["inputs"].size() > 0);
  double before = 1e9;
  for (const json& input : information["inputs"]) {
    CHECK(input["value"].get<double>() <= before);
    before = input["value"].get<double>();
  }
  // No input alone is worth more than all together, but for the noise of the samples.
  CHECK(information["inputs"][0]["value"].get<double>() < 1.1 * information["everything"].get<double>());
}

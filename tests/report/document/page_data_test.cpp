#include "report/document/page_data.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;

TEST_CASE("Ledgers share inputs, and nodes refer to earlier nodes only") {
  const Run run = tests::small_run();
  const auto data = page_data(make_document(run));
  std::set<std::string> keys;
  for (const auto& input : data.at("inputs")) CHECK(keys.insert(input.at("k").get<std::string>()).second);
  REQUIRE(data.at("options").size() == 3);
  for (const auto& option : data.at("options")) {
    const auto& nodes = option.at("ledger").at("nodes");
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      const auto operation = static_cast<figures::Operation>(nodes[i][0].get<int>());
      if (operation == figures::Operation::input) {
        CHECK(nodes[i][1].get<std::size_t>() < data.at("inputs").size());
      } else if (operation != figures::Operation::constant) {
        CHECK(nodes[i][1].get<std::size_t>() < i);
      }
    }
    for (const auto& name : option.at("ledger").at("names")) {
      CHECK(name[1].get<std::size_t>() < data.at("names").size());
    }
  }
}

TEST_CASE("The page is told which limits are on temperatures, and the ambient they count from") {
  Run run = tests::small_run();
  run.study.ambient.range = {273.15, 298.15, 313.15};
  options::Option& option = run.considered.options.front();
  option.ledger.name(option.ledger.constant(310, figures::dimensions::temperature, "test"),
                     "junction_temperature", "junction", figures::parse_unit("degC"));
  option.implied_limits.push_back({"junction_temperature", 398.15, "highest junction temperature"});
  const auto data = page_data(make_document(run));
  CHECK(data.at("ambient") == 298.15);
  for (const auto& budget : data.at("budgets")) CHECK(budget.at("is_temperature") == false);
  std::size_t limits = 0;
  for (const auto& one : data.at("options")) {
    for (const auto& limit : one.at("limits")) {
      CHECK(limit.at("is_temperature") == true);
      ++limits;
    }
  }
  CHECK(limits == 1);
}

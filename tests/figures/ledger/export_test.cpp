#include "figures/ledger/export.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <nlohmann/json.hpp>

#include "figures/evaluation/evaluate.hpp"
#include "random_ledger_fixture.hpp"

using namespace portweigh::figures;
using nlohmann::json;
using test::make_random_ledger;

TEST_CASE("a ledger written as text and read back has identical values and nodes") {
  for (std::uint32_t seed = 1; seed <= 20; ++seed) {
    const auto made = make_random_ledger(seed, 6, 60);
    const auto text = to_json(made.ledger).dump();
    const auto again = ledger_from_json(json::parse(text));
    CHECK(evaluate_all(again) == evaluate_all(made.ledger));
    CHECK(to_json(again).dump() == text);
  }
}

TEST_CASE("names, units, sources, tables and the currency are kept") {
  Ledger ledger;
  const auto volume = ledger.input({.key = "volume",
                                    .label = "units a year",
                                    .range = {100, 300, 900},
                                    .unit = parse_unit("1"),
                                    .source = {"plan", "study.toml", 4, 1},
                                    .correlation = "demand"});
  const LookupTable prices{{100, 1000}, {2.5, 1.8}, {}, dimensions::money, Scale::log_log, "price"};
  (void)ledger.input({.key = "board",
                      .label = "board",
                      .range = exactly(0.2),
                      .unit = parse_unit("USD"),
                      .source = {},
                      .correlation = ""});
  const auto cost = lookup(volume, prices) + ledger.at("board");
  (void)ledger.name(cost, "unit_cost", "unit cost", parse_unit("USD"));
  const auto exported = to_json(ledger);
  CHECK(exported.at("format") == "portweigh-ledger");
  CHECK(exported.at("currency") == "USD");
  CHECK(exported.at("nodes").at(0).at("op") == "input");
  CHECK(exported.at("nodes").at(0).at("source").at("file") == "study.toml");
  CHECK(exported.at("nodes").back().at("key") == "unit_cost");
  CHECK(exported.at("nodes").back().at("args") == json({2, 1}));
  CHECK(exported.at("nodes").back().at("value").get<double>() == Approx(2.33732).epsilon(3e-6));
  const auto again = ledger_from_json(exported);
  CHECK(again.inputs()[0].source == ledger.inputs()[0].source);
  CHECK(again.inputs()[0].correlation == "demand");
  CHECK(again.inputs()[0].range == Range{100, 300, 900});
  CHECK(again.inputs()[1].unit == parse_unit("USD"));
  CHECK(again.tables()[0] == prices);
  CHECK(again.currency() == "USD");
  CHECK(again.at("unit_cost").dimension() == dimensions::money);
}

TEST_CASE("a value that isn't finite becomes null") {
  Ledger ledger;
  const auto zero = ledger.input(
      {.key = "zero", .label = "", .range = exactly(0), .unit = {}, .source = {}, .correlation = ""});
  (void)(zero / zero);
  CHECK(to_json(ledger).at("nodes").back().at("value").is_null());
}

TEST_CASE("JSON that isn't a ledger is refused with the place") {
  Ledger ledger;
  const auto x = ledger.input(
      {.key = "x", .label = "", .range = exactly(1), .unit = {}, .source = {}, .correlation = ""});
  (void)power(x + 1.0, 2.0);
  const auto good = to_json(ledger);
  const auto refuses = [&good](const std::string& why, const std::function<void(json&)>& spoil) {
    auto bad = good;
    spoil(bad);
    INFO(why);
    CHECK_THROWS_AS(ledger_from_json(bad), ImportError);
  };
  refuses("format", [](json& bad) { bad["format"] = "other"; });
  refuses("version", [](json& bad) { bad["version"] = 2; });
  refuses("no nodes", [](json& bad) { bad.erase("nodes"); });
  refuses("operation", [](json& bad) { bad["nodes"][2]["op"] = "modulo"; });
  refuses("forward reference", [](json& bad) { bad["nodes"][2]["args"][0] = 3; });
  refuses("own reference", [](json& bad) { bad["nodes"][2]["args"][0] = 2; });
  refuses("negative reference", [](json& bad) { bad["nodes"][2]["args"][0] = -1; });
  refuses("missing argument", [](json& bad) { bad["nodes"][2]["args"] = json::array({0}); });
  refuses("repeated input", [](json& bad) { bad["nodes"].push_back(bad["nodes"][0]); });
  refuses("range", [](json& bad) { bad["nodes"][0]["low"] = 5; });
  refuses("dimension", [](json& bad) { bad["nodes"][0]["unit"]["dimension"][0] = 1; });
  refuses("huge exponent", [](json& bad) { bad["nodes"][0]["unit"]["dimension"][0] = 1000; });
  CHECK_THROWS_AS(ledger_from_json(json(3)), ImportError);
  CHECK_THROWS_AS(ledger_from_json(json::array()), ImportError);
  CHECK_NOTHROW(ledger_from_json(good));
}

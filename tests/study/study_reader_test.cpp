// Studies: the demo study reads without a mistake; every kind of mistake is told word for word with its
// place.
#include <catch2/catch.hpp>
#include <filesystem>

#include "reading/diagnostic.hpp"
#include "study/study.hpp"
#include "study_texts_fixture.hpp"

namespace portweigh::study {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes_of_study(texts::changed(texts::study(), from, to), texts::function());
}

TEST_CASE("every study of the project reads without a mistake and is labelled as invented") {
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(PORTWEIGH_STUDIES_DIR)) {
    if (entry.path().extension() != ".toml") continue;
    INFO(entry.path());
    try {
      const auto study = read_study(entry.path(), PORTWEIGH_CATALOG_DIR);
      CHECK(study.source.text.find("invented") != std::string::npos);
    } catch (const reading::InputError& error) {
      FAIL_CHECK(error.what());
    }
    ++count;
  }
  CHECK(count >= 1);
}

TEST_CASE("a right study has no mistakes") {
  CHECK(texts::mistakes_of_study(texts::study(), texts::function()) == Lines{});
}

TEST_CASE("values of the demo study arrive in SI units") {
  const auto study =
      read_study(std::filesystem::path(PORTWEIGH_STUDIES_DIR) / "flow-meter.toml", PORTWEIGH_CATALOG_DIR);
  CHECK(study.currency == "USD");
  CHECK(study.function.name == "sink");
  CHECK(study.ambient.range.typical == Approx(303.15));
  CHECK(study.orders_per_year.range.typical == 4);
  CHECK(study.orders_per_year.input.key == "orders_per_year");
  CHECK_FALSE(study.has_second_image);
  REQUIRE(study.host.has_value());
  CHECK(study.host->clock.value_si == 64e6);
  CHECK(study.money.labour_rate.range.typical == Approx(95.0 / 3600));
  REQUIRE(!study.budgets.empty());
  CHECK(study.budgets[0].figure == "active_power");
  CHECK(study.budgets[0].limit_si == Approx(0.012));
  CHECK(study.budgets[0].margin == 0.1);
  CHECK(study.budgets[0].strength == Strength::hard);
  CHECK(study.budgets[0].source.text == "heat in a sealed case, and the battery gauge's resolution");
  CHECK(study.assembly.smallest_pitch.value_si == Approx(0.5e-3));
  CHECK_FALSE(study.assembly.allows_array);
}

TEST_CASE("wrong units, plain numbers, negative and non-finite values") {
  CHECK(mistakes_after("limit = \"12 mW\"", "limit = \"12 mA\"") ==
        Lines{"study.toml:29:9: \"limit\" is \"12 mA\", which is current (A), expected power (W)"});
  CHECK(mistakes_after("supply_voltage = \"3.3 V\"", "supply_voltage = 3.3") ==
        Lines{"study.toml:7:18: \"supply_voltage\" is the plain number 3.3, expected voltage (V) as a string "
              "with a unit"});
  CHECK(mistakes_after("years = 5", "years = -5") ==
        Lines{"study.toml:6:9: \"years\" is -5, expected 0.1 .. 50"});
  CHECK(mistakes_after("years = 5", "years = nan") ==
        Lines{"study.toml:6:9: \"years\" is nan, expected 0.1 .. 50"});
  CHECK(mistakes_after("volume_per_year = 1000", "volume_per_year = 0") ==
        Lines{"study.toml:5:19: \"volume_per_year\" is 0, expected 1 .. 10000000000"});
  CHECK(mistakes_after("volume_per_year = 1000", "orders_per_year = 0\nvolume_per_year = 1000") ==
        Lines{"study.toml:5:19: \"orders_per_year\" is 0, expected 0.1 .. 366"});
  CHECK(mistakes_after("volume_per_year = 1000", "second_image = 1\nvolume_per_year = 1000").size() == 1);
  CHECK(mistakes_after("chance_per_year = 0.25", "chance_per_year = 1.25") ==
        Lines{"study.toml:32:19: \"chance_per_year\" is 1.25, expected 0 .. 1"});
  CHECK(mistakes_after("recall_share = 0.05", "recall_share = \"120 %\"") ==
        Lines{"study.toml:53:16: \"recall_share\" is \"120 %\", expected 0 % .. 100 %"});
}

TEST_CASE("swings are in all budgets or none, and not beside weights") {
  const std::string limit = "limit = \"12 mW\"";
  const std::string other = "\n[[budget]]\nfigure = \"unit_cost\"\nlimit = \"3 USD\"\n";
  CHECK(mistakes_after(limit, limit + "\nswing = 100" + other + "swing = 40").empty());
  CHECK_THAT(mistakes_after(limit, limit + "\nswing = 100" + other).front(),
             Catch::Contains("a budget without swing"));
  CHECK_THAT(mistakes_after(limit, limit + "\nswing = 100\nweight = 2").front(),
             Catch::Contains("weight beside swing"));
  CHECK_THAT(mistakes_after(limit, limit + "\nswing = 0").front(), Catch::Contains("no budget has points"));
  CHECK_THAT(mistakes_after(limit, limit + "\nswing = 101").front(), Catch::Contains("101"));
}

TEST_CASE("names that don't exist are told with the nearest one") {
  CHECK(mistakes_after("function = \"small\"", "function = \"smal\"") ==
        Lines{"study.toml:3:12: unknown port function \"smal\", expected small; nearest: \"small\""});
  CHECK(mistakes_after("function = \"small\"", "function = \"own.toml\"").size() == 1);
  CHECK(
      mistakes_after("figure = \"active_power\"", "figure = \"activ_power\"") ==
      Lines{"study.toml:28:10: unknown figure \"activ_power\", expected one of logic_cells, clock_rate, "
            "active_power, average_power, standby_power, energy_per_day, battery_life, standby_loss_per_day, "
            "unit_cost, cost_per_unit_over_life, one_time_cost, change_cost, change_cost_worst, "
            "net_present_cost, effort, "
            "development_time, reaction_time, junction_temperature, board_area, lead_time, "
            "single_sourced_parts, availability_shortfall; nearest: \"active_power\""});
  CHECK(mistakes_after("core = \"32-bit-a\"", "core = \"32-bit-c\"") ==
        Lines{"study.toml:35:8: unknown core class \"32-bit-c\", expected one of 32-bit-a, 8-bit-b; nearest: "
              "\"32-bit-a\""});
  CHECK(mistakes_after("\"mc-b\"", "\"mc-c\"") ==
        Lines{"study.toml:10:23: unknown part \"mc-c\", expected one of mc-b, pl-a; nearest: \"mc-b\""});
  CHECK(mistakes_after("touches = [\"policy\"]", "touches = [\"policy\", \"lines\"]") ==
        Lines{"study.toml:33:22: unknown revision group \"lines\", expected one of line, policy; nearest: "
              "\"line\""});
  CHECK(mistakes_after("share = 0.9", "shard = 0.9").size() == 2);
}

TEST_CASE("a part is left out with a reason, once, and must be one of the catalog") {
  const auto leave_out = [](const std::string& entries) {
    return mistakes_after("only_parts = [\"pl-a\", \"mc-b\"]", "excluded_parts = [" + entries + "]");
  };
  CHECK(leave_out("{ part = \"mc-b\", reason = \"one source only\" }") == Lines{});
  CHECK(leave_out("\"mc-b\"") ==
        Lines{"study.toml:10:19: \"excluded_parts[0]\" is a string, expected a table such as "
              "{ part = \"ID\", reason = \"why\" }"});
  CHECK(leave_out("{ part = \"mc-b\" }") == Lines{"study.toml:10:19: missing key \"reason\" in "
                                                  "[excluded_parts[0]], expected a text that is not empty"});
  CHECK(leave_out("{ part = \"mc-b\", reason = \"\" }").size() == 1);
  CHECK(leave_out("{ part = \"mc-c\", reason = \"why\" }") ==
        Lines{"study.toml:10:28: unknown part \"mc-c\", expected one of mc-b, pl-a; nearest: \"mc-b\""});
  CHECK(leave_out("{ part = \"mc-b\", reason = \"a\" }, { part = \"mc-b\", reason = \"b\" }") ==
        Lines{"study.toml:10:61: part \"mc-b\" is listed twice, expected each once"});
}

TEST_CASE("a study looks at its only parts, less those it leaves out") {
  Study study;
  CHECK(is_considered(study, "a"));
  study.excluded_parts = {{"a", "why"}};
  CHECK_FALSE(is_considered(study, "a"));
  CHECK(is_considered(study, "b"));
  study.only_parts = {"a", "b"};
  CHECK_FALSE(is_considered(study, "a"));
  CHECK(is_considered(study, "b"));
  CHECK_FALSE(is_considered(study, "c"));
}

TEST_CASE("a revision may touch a group that only another function of the catalog has") {
  const texts::Folder folder;
  const auto text =
      texts::changed(texts::study(), "touches = [\"policy\"]", "touches = [\"alternate-mode\"]");
  const auto with_parts = texts::changed(text, "only_parts = [\"pl-a\", \"mc-b\"]\n", "");
  const auto own_function =
      texts::changed(with_parts, "function = \"small\"", "function = \"host-assisted\"");
  folder.write("study.toml", texts::changed(own_function, "32-bit-a", "32-bit-two-stage"));
  const auto study = read_study(folder.path() / "study.toml", PORTWEIGH_CATALOG_DIR);
  CHECK(study.revisions.at(0).touches == std::vector<std::string>{"alternate-mode"});
}

TEST_CASE("shares of states add up to one, and one state is active") {
  CHECK(mistakes_after("share = 0.9", "share = 0.85") ==
        Lines{"study.toml:14:9: typical shares of the states add up to 0.95, expected 1 (within 0.001)"});
  CHECK(mistakes_after("share = 0.9", "share = 0.9004") == Lines{});
  CHECK(mistakes_after("active = true\n", "") ==
        Lines{"study.toml:11:1: no state has active = true, expected exactly one"});
  CHECK(
      mistakes_after("attached = false", "active = true") ==
      Lines{
          "study.toml:19:10: state \"active\" is active and so is \"detached\", expected exactly one active "
          "state"});
  CHECK(mistakes_after("active = true", "active = true\nattached = false") ==
        Lines{"study.toml:20:12: an active state without a cable, expected attached = true"});
  CHECK(mistakes_after("name = \"detached\"", "name = \"active\"") ==
        Lines{"study.toml:18:8: state \"active\" is listed twice, expected a unique name"});
}

TEST_CASE("money is in the study's currency, which has a rate") {
  CHECK(mistakes_after("test_cost = \"0.08 USD\"", "test_cost = \"0.08 EUR\"") ==
        Lines{"study.toml:45:13: test_cost in EUR, expected the study's currency USD"});
  CHECK(mistakes_after("figure = \"active_power\"\nlimit = \"12 mW\"",
                       "figure = \"unit_cost\"\nlimit = \"3 EUR\"") ==
        Lines{"study.toml:29:9: limit in EUR, expected the study's currency USD"});
  auto other = texts::study();
  for (auto at = other.find("USD"); at != std::string::npos; at = other.find("USD"))
    other.replace(at, 3, "SEK");
  CHECK(texts::mistakes_of_study(other, texts::function()) ==
        Lines{"study.toml:4:12: unknown currency \"SEK\", expected one of EUR, USD"});
  CHECK(mistakes_after("currency = \"USD\"", "currency = \"dollars\"") ==
        Lines{"study.toml:4:12: \"currency\" is \"dollars\", expected a currency code such as \"USD\""});
}

TEST_CASE("a figure has at most one hard limit and one wish") {
  const std::string budget = "[[budget]]\nfigure = \"active_power\"\nlimit = \"12 mW\"\n";
  CHECK(mistakes_after(budget, budget + budget) ==
        Lines{"study.toml:31:10: figure \"active_power\" has two hard limits, expected one"});
  CHECK(mistakes_after(budget, budget + budget + "strength = \"wish\"\n") == Lines{});
}

TEST_CASE("all mistakes of a study and its function are told in one run") {
  auto study = texts::changed(texts::study(), "years = 5", "years = 0");
  study = texts::changed(study, "share = 0.9", "share = 0.8");
  study = texts::changed(study, "[assembly]", "[asembly]");
  const auto all =
      texts::mistakes_of_study(study, texts::changed(texts::function(), "width = 16", "width = 99"),
                               texts::changed(texts::state_table(), "to = \"bright\"", "to = \"dark\""));
  INFO([&] {
    std::string text;
    for (const auto& line : all) text += line + "\n";
    return text;
  }());
  REQUIRE(all.size() >= 6);
  CHECK(all[0].starts_with("study.toml:1:1: missing key \"assembly\""));
  CHECK(all[1].starts_with("study.toml:6:9: \"years\" is 0"));
  CHECK(all[2].starts_with("study.toml:14:9: typical shares"));
  CHECK(all[3].starts_with("study.toml:23:2: unknown key \"asembly\""));
  CHECK(all[4].starts_with("small.toml:17:22: \"width\" is 99"));
  CHECK(all[5].starts_with("lamp.toml:"));
}

TEST_CASE("a file that isn't there or isn't TOML") {
  const texts::Folder folder;
  CHECK_THROWS_AS(read_study(folder.path() / "none.toml", PORTWEIGH_CATALOG_DIR), reading::InputError);
  folder.write("bad.toml", "name = \n");
  CHECK_THROWS_AS(read_study(folder.path() / "bad.toml", PORTWEIGH_CATALOG_DIR), reading::InputError);
}

}  // namespace
}  // namespace portweigh::study

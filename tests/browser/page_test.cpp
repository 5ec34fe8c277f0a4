// The report page in a real browser: what it shows, what it asks for, what it recomputes, how it prints.
#include <fmt/core.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include <algorithm>

#include <catch2/catch.hpp>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <sstream>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "figures/ledger/export.hpp"
#include "web_driver_fixture.hpp"

using namespace portweigh;
using nlohmann::json;
using tests::WebDriver;
namespace fs = std::filesystem;

namespace {

// One browser for all tests.
WebDriver& browser() {
  static WebDriver driver;
  return driver;
}

void check_quiet(WebDriver& driver) {
  for (const std::string& message : driver.take_console()) FAIL_CHECK(message);
}

// {option: {figure: value}} as the table shows it, in full precision.
json table_values(WebDriver& driver) {
  return driver.run(R"(
    const found = {};
    for (const button of document.querySelectorAll("#budgets-table button.figure")) {
      (found[button.dataset.option] ||= {})[button.dataset.figure] = Number(button.dataset.value);
    }
    return found;)");
}

void check_same(const json& shown, const json& expected) {
  REQUIRE_FALSE(expected.empty());
  for (const auto& [option, figures] : expected.items()) {
    for (const auto& [figure, value] : figures.items()) {
      INFO(option << " " << figure);
      REQUIRE(shown.contains(option));
      CHECK(shown.at(option).at(figure).get<double>() == Approx(value.get<double>()).epsilon(1e-9));
    }
  }
}

// What the program's own evaluation gives for the shown options with some inputs set.
json evaluated(const std::vector<figures::Setting>& settings) {
  json expected = json::object();
  for (const auto& id : tests::demo_run().at("shown")) {
    const auto ledger = figures::ledger_from_json(tests::demo_run().at("ledgers").at(id.get<std::string>()));
    std::vector<figures::Setting> known;
    for (const figures::Setting& setting : settings) {
      if (ledger.find(setting.key)) known.push_back(setting);
    }
    for (const auto& budget : tests::demo_run().at("study_budgets")) {
      const auto key = budget.at("figure").get<std::string>();
      expected[id.get<std::string>()][key] = figures::evaluate(ledger, ledger.at(key), known);
    }
  }
  return expected;
}

std::string text_of_first_page(const std::string& pdf) {
  const fs::path path = tests::browser_folder() / "page.pdf";
  std::ofstream(path, std::ios::binary) << pdf;
  const fs::path text = tests::browser_folder() / "page.txt";
  REQUIRE(std::system(fmt::format("pdftotext -l 1 '{}' '{}'", path.string(), text.string()).c_str()) == 0);
  std::ifstream file(text);
  std::string words((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  std::replace(words.begin(), words.end(), '\n', ' ');
  return words;
}

}  // namespace

TEST_CASE("The page opens without a message or a request, and draws its charts") {
  WebDriver& driver = browser();
  driver.resize(1280, 900);
  driver.take_requests();
  driver.open(tests::demo_page(), "");
  check_quiet(driver);
  for (const std::string& request : driver.take_requests()) {
    INFO(request);
    CHECK((request == "about:blank" || request == "file://" + tests::demo_page().string()));
  }
  for (const char* id : {"tradeoff", "power", "cost", "probability", "shares", "flips", "map", "drivers"}) {
    INFO(id);
    CHECK(driver.run("return document.querySelectorAll('#chart-' + arguments[0] + ' svg path').length",
                     {id}) > 3);
  }
  CHECK(fs::file_size(tests::demo_page()) < 2'000'000);
  const json paint = driver.run(
      "return performance.getEntriesByName('first-contentful-paint').map((entry) => entry.startTime)");
  std::cout << fmt::format("demo page: {} kB, first contentful paint {} ms\n",
                           fs::file_size(tests::demo_page()) / 1000,
                           paint.empty() ? "unknown" : paint[0].dump());
}

TEST_CASE("Unmoved, the page recomputes the recorded figures and order") {
  WebDriver& driver = browser();
  driver.open(tests::demo_page(), "");
  check_same(table_values(driver), evaluated({}));
  CHECK(driver.run("return document.getElementById('moved').hidden") == true);
  const json order = driver.run("return page.ordered.map((result) => result.option.id)");
  CHECK(order == tests::demo_run().at("shown"));
  // Texts written by the program and texts written by the page are the same.
  const json texts = driver.run(R"(
    return [...document.querySelectorAll("#budgets-table button.figure")].filter((button) => {
      const result = page.results.get(button.dataset.option);
      const node = result.option.node_of.get(button.dataset.figure);
      return button.textContent !== format_quantity(result.values[node], unit_at(result.option, node));
    }).map((button) => button.dataset.option + " " + button.dataset.figure + " " + button.textContent);)");
  CHECK(texts == json::array());
}

TEST_CASE("A fragment moves figures to what the program gives for the same inputs") {
  WebDriver& driver = browser();
  driver.open(tests::demo_page(),
              "duty_cycle=0.037&volume_per_year=12345&years=7.5&revision.policy-change.chance=0.41");
  check_same(table_values(driver), evaluated({{"duty_cycle", 0.037},
                                              {"volume_per_year", 12345},
                                              {"years", 7.5},
                                              {"revision.policy-change.chance", 0.41}}));
  CHECK(driver.run("return document.getElementById('moved').hidden") == false);
  // The same through the program's own sweep over the study file.
  const json sweep = json::parse(
      tests::run_program({"sweep", tests::demo_study, "--over", "duty_cycle=0.037:0.05:2", "--over",
                          "volume_per_year=12345:20000:2", "--figure", "average_power", "--json"}));
  driver.open(tests::demo_page(), "duty_cycle=0.037&volume_per_year=12345");
  const json shown = table_values(driver);
  std::size_t compared = 0;
  for (std::size_t i = 0; i < sweep.at("options").size(); ++i) {
    const auto id = sweep.at("options")[i].get<std::string>();
    if (!shown.contains(id)) continue;
    CHECK(shown.at(id).at("average_power").get<double>() ==
          Approx(sweep.at("points")[0].at("values")[i].get<double>()).epsilon(1e-9));
    ++compared;
  }
  CHECK(compared == shown.size());
  check_quiet(driver);
}

TEST_CASE("Factors move each option's own value, and invalid clocks are told") {
  WebDriver& driver = browser();
  driver.open(tests::demo_page(), "clock=2&prices=1.3");
  json expected = json::object();
  for (const auto& id : tests::demo_run().at("shown")) {
    const auto ledger = figures::ledger_from_json(tests::demo_run().at("ledgers").at(id.get<std::string>()));
    std::vector<figures::Setting> settings;
    for (const figures::Input& input : ledger.inputs()) {
      if (input.key == "clock_rate") settings.push_back({input.key, 2 * input.range.typical});
      if (input.correlation == "prices") settings.push_back({input.key, 1.3 * input.range.typical});
    }
    for (const char* key : {"active_power", "unit_cost"}) {
      expected[id.get<std::string>()][key] = figures::evaluate(ledger, ledger.at(key), settings);
    }
  }
  check_same(table_values(driver), expected);
  driver.open(tests::demo_page(), "clock=0.5");
  CHECK_THAT(driver.run("return document.getElementById('moved').textContent").get<std::string>(),
             Catch::Matchers::Contains("Outside what stays valid"));
}

TEST_CASE("Moved limits and weights give the program's margins and feasibility") {
  WebDriver& driver = browser();
  std::ifstream file(tests::demo_study);
  std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const std::string limit = "limit = \"12 mW\"";
  REQUIRE(text.find(limit) != std::string::npos);
  text.replace(text.find(limit), limit.size(), "limit = \"5 mW\"");
  const fs::path study = tests::browser_folder() / "tighter.toml";
  std::ofstream(study) << text;
  const json ranked = json::parse(tests::run_program({"rank", study.string(), "--json"}));
  driver.open(tests::demo_page(), "limit.active_power=0.005");
  const json results = driver.run(R"(
    return Object.fromEntries(page.ordered.map((result) => [result.option.id, { score: result.score, meets: result.meets,
      probability: result.probability, margins: result.budgets.map((budget) => budget.margin) }]));)");
  std::size_t compared = 0;
  for (const auto& option : ranked.at("options")) {
    const auto id = option.at("id").get<std::string>();
    if (!results.contains(id)) continue;
    INFO(id);
    const json& of = results.at(id);
    CHECK(of.at("score").get<double>() == Approx(option.at("weighted_margin").get<double>()).epsilon(1e-9));
    CHECK(of.at("meets") == option.at("meets_budgets"));
    // 1,024 stratified samples of the page against 4,096 of the program: five standard errors.
    CHECK(of.at("probability").get<double>() ==
          Approx(option.at("probability_meets_budgets").get<double>()).margin(0.08));
    for (std::size_t b = 0; b < of.at("margins").size(); ++b) {
      CHECK(of.at("margins")[b].get<double>() ==
            Approx(option.at("budgets")[b].at("margin").get<double>()).epsilon(1e-9));
    }
    ++compared;
  }
  CHECK(compared == results.size());
}

TEST_CASE("At a moved ambient the page gives what the program gives for a study with that ambient") {
  WebDriver& driver = browser();
  std::ifstream file(tests::demo_study);
  std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const std::size_t start = text.find("ambient = {");
  REQUIRE(start != std::string::npos);
  text.replace(start, text.find('}', start) + 1 - start,
               "ambient = { low = \"10 degC\", typical = \"60 degC\", high = \"70 degC\" }");
  const fs::path study = tests::browser_folder() / "warmer.toml";
  std::ofstream(study) << text;
  const json ranked = json::parse(tests::run_program({"rank", study.string(), "--json"}));
  driver.open(tests::demo_page(), "study.ambient=333.15");
  const json results = driver.run(R"(
    return Object.fromEntries(page.ordered.map((result) => [result.option.id, { score: result.score,
      temperature: result.budgets[page.budgets.findIndex((one) => one.figure === "junction_temperature")] }]));)");
  std::size_t compared = 0;
  for (const auto& option : ranked.at("options")) {
    const auto id = option.at("id").get<std::string>();
    if (!results.contains(id)) continue;
    INFO(id);
    for (const auto& budget : option.at("budgets")) {
      if (budget.at("figure") != "junction_temperature" || budget.at("implied").get<bool>()) continue;
      const json& of = results.at(id).at("temperature");
      CHECK(of.at("value").get<double>() - 273.15 == Approx(budget.at("value").get<double>()).epsilon(1e-9));
      CHECK(of.at("margin").get<double>() == Approx(budget.at("margin").get<double>()).epsilon(1e-9));
      ++compared;
    }
    CHECK(results.at(id).at("score").get<double>() ==
          Approx(option.at("weighted_margin").get<double>()).epsilon(1e-9));
  }
  CHECK(compared > 5);
}

TEST_CASE("Sliders work from the keyboard, keep their state in the address, and can be taken back") {
  WebDriver& driver = browser();
  driver.resize(1280, 900);
  driver.open(tests::demo_page(), "");
  driver.press("#whatif input[type=range]", "\xEE\x80\x94\xEE\x80\x94");  // arrow right, twice
  driver.wait_until_ready();
  const auto fragment = driver.run("return location.hash").get<std::string>();
  CHECK_THAT(fragment, Catch::Matchers::StartsWith("#duty_cycle="));
  check_same(table_values(driver), evaluated({{"duty_cycle", std::stod(fragment.substr(12))}}));
  CHECK(driver.run("return document.documentElement.classList.contains('is-moved')") == true);
  driver.click("#moved button");
  driver.wait_until_ready();
  CHECK(driver.run("return location.hash") == "");
  check_same(table_values(driver), evaluated({}));
}

TEST_CASE("What an address can't set is refused in words, as text") {
  WebDriver& driver = browser();
  driver.open(tests::demo_page(),
              "duty_cycle=abc&function.bit_rate=1e6&%3Cimg%20src=1&years=-3&volume_per_year=1e999");
  const auto notice = driver.run("return document.getElementById('moved').textContent").get<std::string>();
  for (const char* part : {"duty_cycle=abc", "function.bit_rate=1e6", "years=-3", "volume_per_year=1e999"}) {
    CHECK_THAT(notice, Catch::Matchers::Contains(part));
  }
  CHECK(driver.run("return document.querySelectorAll('#moved img').length") == 0);
  check_same(table_values(driver), evaluated({}));
}

TEST_CASE("A figure explains itself down to file and line, with the program's values") {
  WebDriver& driver = browser();
  driver.open(tests::demo_page(), "");
  const auto option = tests::demo_run().at("shown")[1].get<std::string>();
  driver.press(fmt::format("button.figure[data-option=\"{}\"][data-figure=\"active_power\"]", option),
               "\xEE\x80\x87");
  CHECK(driver.run("return document.getElementById('derivation').open") == true);
  const json explained = json::parse(tests::run_program(
      {"explain", tests::demo_study, "--option", option, "--figure", "active_power", "--json"}));
  const auto text = driver.run("return document.getElementById('derivation').textContent").get<std::string>();
  std::size_t sources = 0;
  for (const auto& line : explained.at("lines")) {
    INFO(line.dump());
    CHECK(text.find(line.at("shown").get<std::string>()) != std::string::npos);
    if (!line.contains("source") || line.at("source").at("file") == "") continue;
    const auto file = fs::path(line.at("source").at("file").get<std::string>()).filename().string();
    CHECK(text.find(fmt::format("{}:{}:", file, line.at("source").at("line").get<int>())) !=
          std::string::npos);
    ++sources;
  }
  CHECK(sources > 5);
  driver.press("#derivation button", "\xEE\x80\x8C");  // escape
  CHECK(driver.run("return document.getElementById('derivation').open") == false);
}

TEST_CASE("Names that look like mark-up do nothing in the page") {
  WebDriver& driver = browser();
  std::ifstream file(tests::demo_study);
  std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  const std::string summary = "summary = \"portable";
  REQUIRE(text.find(summary) != std::string::npos);
  text.replace(text.find(summary), summary.size(),
               "summary = \"<script>window.hit = 1</script><b>portable</b>");
  const fs::path study = tests::browser_folder() / "marked.toml";
  std::ofstream(study) << text;
  const fs::path page = tests::browser_folder() / "marked.html";
  tests::run_program({"report", study.string(), "--samples", "64", "--output", page.string()});
  driver.open(page, "");
  CHECK_THAT(driver.run("return document.querySelector('h1 + p').textContent").get<std::string>(),
             Catch::Matchers::StartsWith("<script>window.hit = 1</script><b>portable</b>"));
  CHECK(driver.run("return window.hit === undefined") == true);
  check_quiet(driver);
}

TEST_CASE("Printed on A4 and Letter, the first page has the recommendation") {
  WebDriver& driver = browser();
  if (!fs::exists("/usr/bin/pdftotext")) FAIL("pdftotext is missing (Debian: poppler-utils)");
  driver.open(tests::demo_page(), "");
  const auto verdict = tests::demo_run().at("recommendation")[0].get<std::string>();
  for (const auto& [width, height] : {std::pair{21.0, 29.7}, std::pair{21.59, 27.94}}) {
    const std::string words = text_of_first_page(driver.print(width, height));
    CHECK_THAT(words, Catch::Matchers::Contains(verdict.substr(0, 40)));
    CHECK_THAT(words, Catch::Matchers::Contains("Options against budgets"));
    CHECK(words.find("What if") == std::string::npos);
  }
}

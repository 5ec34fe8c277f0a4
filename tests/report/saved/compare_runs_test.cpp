#include "report/saved/compare_runs.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "figures/ledger/export.hpp"
#include "report/document/report_formats.hpp"
#include "report/terminal/text_table.hpp"
#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;
using Catch::Matchers::Contains;

namespace {

// A part that warms by `rise_k` above the ambient.
SavedOption warm_option(const std::string& id, double ambient_c, double rise_k) {
  SavedOption option;
  option.id = id;
  const auto ambient = option.ledger.input({"study.ambient", "ambient", figures::exactly(273.15 + ambient_c),
                                            figures::parse_unit("degC"), figures::Source{}, ""});
  const auto rise = option.ledger.constant(rise_k, figures::dimensions::temperature, "rise");
  option.ledger.name(ambient + rise, "junction_temperature", "junction", figures::parse_unit("degC"));
  return option;
}

SavedRun saved(const tests::SmallRun& wanted) {
  const Run run = tests::small_run(wanted);
  const Document document = make_document(run);
  return read_saved_run(nlohmann::ordered_json::parse(report_json(document).dump()));
}

}  // namespace

TEST_CASE("A run compared with itself moved nothing") {
  const RunComparison comparison = compare_runs(saved({}), saved({}));
  CHECK(comparison.inputs.empty());
  CHECK(comparison.figures.empty());
  CHECK(comparison.ranks.empty());
  CHECK(comparison.conclusion == std::vector<std::string>{"Nothing moved."});
}

TEST_CASE("A dearer part loses its lead, and its price is named as the reason") {
  const SavedRun before = saved({});
  const SavedRun after = saved({.alpha_price = 2.7});
  const RunComparison comparison = compare_runs(before, after);
  CHECK(comparison.leader_before == "ff-alpha");
  CHECK(comparison.leader_after == "pl-gamma");
  REQUIRE(comparison.inputs.size() == 1);
  CHECK(comparison.inputs[0].key == "parts.ff-alpha.price");
  CHECK(comparison.inputs[0].before->typical == 1.0);
  CHECK(comparison.inputs[0].after->typical == 2.7);
  REQUIRE(comparison.effects.size() == 1);
  // The weighted margin of alpha falls by a third of the change of its cost margin: 1.7 / 3 / 3.
  CHECK(comparison.effects[0].change == Approx(1.7 / 9).epsilon(1e-12));
  CHECK(comparison.gap_after - comparison.gap_before == Approx(1.7 / 9).epsilon(1e-12));
  for (const MovedFigure& moved : comparison.figures) CHECK(moved.option == "ff-alpha");
  CHECK_THAT(comparison.conclusion[0], Contains("from ff-alpha to pl-gamma"));
  CHECK_THAT(comparison_text(comparison), Contains("parts.ff-alpha.price") && Contains("+18.89 points"));
  CHECK(comparison_json(comparison).at("leader_after") == "pl-gamma");
}

TEST_CASE("Temperatures count from the ambient of each run") {
  const auto run_at = [](double ambient_c, bool hot_leads) {
    SavedRun run;
    run.budgets = {{"junction_temperature", 273.15 + 85, 0, 1, true}};
    run.options.push_back(warm_option(hot_leads ? "hot" : "cool", ambient_c, hot_leads ? 10 : 5));
    run.options.push_back(warm_option(hot_leads ? "cool" : "hot", ambient_c, hot_leads ? 5 : 10));
    return run;
  };
  const RunComparison comparison = compare_runs(run_at(25, false), run_at(65, true));
  REQUIRE(comparison.effects.size() == 1);
  CHECK(comparison.effects[0].input == "study.ambient");
  // The 5 K between the two are 5 of 60 K before, 5 of 20 K after.
  CHECK(comparison.effects[0].change == Approx(5.0 / 60 - 5.0 / 20));
}

TEST_CASE("A moved budget is told as one, and lines of text fit a terminal") {
  const RunComparison comparison = compare_runs(saved({}), saved({.cost_limit = 1.1}));
  REQUIRE(comparison.budgets.size() == 1);
  CHECK(comparison.budgets[0].first->limit == 3.0);
  CHECK(comparison.budgets[0].second->limit == 1.1);
  const std::string text = comparison_text(comparison);
  CHECK_THAT(text, Contains("limit (SI) of unit_cost"));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(display_width(line) <= 80);
  }
}

TEST_CASE("A comparison carries the cautions, and says where a reason for leaving a part out has changed") {
  const RunComparison comparison =
      compare_runs(saved({}), saved({.alpha_price = 2, .exclusion_reason = "<late>"}));
  for (const std::string& caution : report::cautions({5, 3})) {
    CHECK_THAT(comparison_html(comparison), Contains("<li>" + caution + "</li>"));
  }
  CHECK_THAT(comparison_html(comparison), Contains("Left out by the study (after): ff-omega: &lt;late&gt;"));
  CHECK_THAT(comparison_text(comparison), Contains("Early estimates") &&
                                              Contains("Left out by the study (before): ff-omega: one") &&
                                              Contains("Left out by the study (after): ff-omega: <late>"));
  CHECK(comparison_json(comparison)["cautions"].size() == 3);
  CHECK(comparison_json(comparison)["excluded"].size() == 2);
}

TEST_CASE("Names are escaped in the page of a comparison") {
  const RunComparison comparison =
      compare_runs(saved({.study_name = "<script>a</script>"}), saved({.alpha_price = 2, .study_name = "b"}));
  const std::string html = comparison_html(comparison);
  CHECK(html.find("<script>") == std::string::npos);
  CHECK(html.find("&lt;script&gt;a&lt;/script&gt;") != std::string::npos);
}

TEST_CASE("What is no saved run is refused") {
  CHECK_THROWS_AS(read_saved_run(nlohmann::ordered_json::parse(R"({"format": "other"})")),
                  figures::ImportError);
  CHECK_THROWS_AS(
      read_saved_run(nlohmann::ordered_json::parse(R"({"format": "portweigh-run", "version": 1})")),
      figures::ImportError);
  CHECK_THROWS_AS(read_saved_run(nlohmann::ordered_json::parse("[]")), figures::ImportError);
}

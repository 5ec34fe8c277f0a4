// The page's evaluator against this program's, on every operation of the ledger and at random inputs.
#include <unistd.h>
#include <nlohmann/json.hpp>

#include <catch2/catch.hpp>
#include <fstream>
#include <random>

#include "figures/evaluation/evaluate.hpp"
#include "report/document/html.hpp"
#include "report/document/page_data.hpp"
#include "web_driver_fixture.hpp"

using namespace portweigh;
using figures::Figure;
using figures::Ledger;
using nlohmann::json;
namespace dimensions = figures::dimensions;

namespace {

Figure number(Ledger& ledger, const std::string& key, double low, double typical, double high) {
  return ledger.input({key, key, {low, typical, high}, figures::parse_unit("1"), {"invented", "", 0, 0}, ""});
}

figures::LookupTable table(figures::Scale scale) {
  return {{1, 2, 5, 9}, {3, 7, 4, 1}, dimensions::dimensionless, dimensions::dimensionless, scale, "a table"};
}

// One named figure for each operation, of inputs a, b and c.
void add_all_operations(Ledger& ledger) {
  const Figure a = number(ledger, "a", 0.1, 2, 12);
  const Figure b = number(ledger, "b", 0.1, 3, 12);
  const Figure c = number(ledger, "c", 0.1, 1, 2);
  const std::pair<const char*, Figure> all[] = {{"sum", a + b},
                                                {"difference", a - b},
                                                {"product", a * b},
                                                {"quotient", a / b},
                                                {"least", minimum(a, b)},
                                                {"most", maximum(a, b)},
                                                {"square", power(a, 2.0)},
                                                {"inverse", power(a, -1.0)},
                                                {"third", power(a, 3.0)},
                                                {"raised", power(a, c)},
                                                {"natural", log(a)},
                                                {"exponential", exp(c)},
                                                {"up", round_up(a * b)},
                                                {"down", round_down(a * b)},
                                                {"line", lookup(a, table(figures::Scale::linear))},
                                                {"curve", lookup(a, table(figures::Scale::log_log))},
                                                {"test", at_least(a, b)},
                                                {"choice", select(at_least(a, b), c, a)},
                                                {"constant", a + ledger.constant(0.3)}};
  for (const auto& [key, figure] : all) ledger.name(figure, key, key, figures::parse_unit("1"));
  ledger.name(ledger.at("sum"), "again", "the sum again", figures::parse_unit("1"));
  ledger.name(ledger.at("sum") * 1.0, "active_power", "stands for a budgeted figure",
              figures::parse_unit("1"));
}

report::Run run_with_all_operations() {
  report::Run run;
  run.study.name = "all operations";
  run.study.currency = "USD";
  study::Budget budget;
  budget.figure = "active_power";
  budget.limit_si = 10;
  run.study.budgets = {budget};
  options::Option option;
  option.id = "one";
  add_all_operations(option.ledger);
  run.considered.options.push_back(std::move(option));
  run.ranking = decision::rank(run.considered.options, run.study, {64, 1, 1});
  return run;
}

}  // namespace

TEST_CASE("Every operation gives in the page what it gives here") {
  const report::Run run = run_with_all_operations();
  const Ledger& ledger = run.considered.options[0].ledger;
  const auto path =
      std::filesystem::temp_directory_path() / ("portweigh-evaluator-" + std::to_string(getpid()) + ".html");
  std::ofstream(path) << report::report_html(report::make_document(run));
  tests::WebDriver driver;
  driver.open(path, "");
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> draw(0.1, 12.0);
  json inputs = json::array();
  for (int i = 0; i < 500; ++i)
    inputs.push_back({{"a", draw(random)}, {"b", draw(random)}, {"c", draw(random) / 6}});
  for (const double corner : {1.0, 2.0, 5.0, 9.0})
    inputs.push_back({{"a", corner}, {"b", corner}, {"c", 0.0}});
  const json values = driver.run(R"(
    return arguments[0].map((given) => {
      const inputs = Float64Array.from(page.inputs, (input) => given[input.k]);
      const option = page.options[0], values = evaluate(option.nodes, inputs, page.tables);
      return Object.fromEntries([...option.node_of].map(([key, node]) => [key, values[node]]));
    });)",
                                 json::array({inputs}));
  REQUIRE(values.size() == inputs.size());
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    std::vector<figures::Setting> settings;
    for (const auto& [key, value] : inputs[i].items()) settings.push_back({key, value.get<double>()});
    for (const auto& [key, value] : values[i].items()) {
      INFO(key << " at " << inputs[i].dump());
      CHECK(value.get<double>() ==
            Approx(figures::evaluate(ledger, ledger.at(key), settings)).epsilon(1e-12).margin(1e-300));
    }
  }
  CHECK(values[0].size() == ledger.named_nodes().size() + ledger.inputs().size());
  std::filesystem::remove(path);
}

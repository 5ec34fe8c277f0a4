// Figures that comments of the catalog's functions and of the demo study name are those the tool has.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <optional>
#include <regex>
#include <string>

#include "blocks/kind.hpp"
#include "options/firmware/event_rules.hpp"
#include "reading/document.hpp"
#include "study/study.hpp"

using namespace portweigh;

namespace {

struct Function {
  std::string name;
  std::string text;
  study::PortFunction read;
};

std::vector<Function> functions() {
  std::vector<Function> all;
  const std::filesystem::path catalog = PORTWEIGH_CATALOG_DIR;
  for (const auto& entry : std::filesystem::directory_iterator(catalog / "functions")) {
    all.push_back({entry.path().filename().string(), reading::read_text_file(entry.path()),
                   study::read_function(entry.path(), catalog)});
  }
  return all;
}

// The numbers that the pattern finds in the text; none: it isn't there.
std::optional<std::pair<double, double>> numbers_in(const std::string& text, const char* pattern) {
  std::smatch found;
  if (!std::regex_search(text, found, std::regex(pattern))) return std::nullopt;
  return std::pair{std::stod(found[1]), std::stod(found[2])};
}

}  // namespace

TEST_CASE("Edges a second of the line code are those of the traffic that is simulated and run") {
  int seen = 0;
  for (const Function& function : functions()) {
    INFO(function.name);
    const auto told =
        numbers_in(function.text,
                   "# The line code: ([0-9.]+) thousand edges a second on its symbols, ([0-9.]+) "
                   "at the most");
    bool has_line = false;
    for (const study::FunctionBlock& block : function.read.blocks) {
      if (!block.kind->line) continue;
      has_line = true;
      REQUIRE(told);
      const blocks::LineFacts line = block.kind->line(block.settings);
      const double bits = function.read.timing.bit_rate.range.typical / 1e3;
      CHECK(told->first == Approx(options::mean_edges(function.read) * bits).epsilon(0.002));
      CHECK(told->second == Approx(most_edges(line, options::symbols_of(function.read)) * bits));
      ++seen;
    }
    CHECK(told.has_value() == has_line);
  }
  CHECK(seen >= 5);
}

TEST_CASE("The tick is the share of the shortest timer that its comment says") {
  int seen = 0;
  for (const Function& function : functions()) {
    const auto told = numbers_in(function.text,
                                 "# a tenth of the shortest protocol timer [(]receive timer, ([0-9.]+) "
                                 "to ([0-9.]+) ms");
    if (!told) continue;
    ++seen;
    INFO(function.name);
    CHECK(function.read.timing.tick.value_si == Approx(0.1 * 1e-3 * (told->first + told->second) / 2));
  }
  CHECK(seen >= 5);
}

TEST_CASE("The demo's budgets are the shares of the product that their sources say") {
  const std::filesystem::path file = PORTWEIGH_STUDIES_DIR "/flow-meter.toml";
  const study::Study study = study::read_study(file, PORTWEIGH_CATALOG_DIR);
  const auto limit_w = [&](const std::string& source) {
    const auto found = std::find_if(study.budgets.begin(), study.budgets.end(),
                                    [&](const auto& budget) { return budget.source.text == source; });
    REQUIRE(found != study.budgets.end());
    return found->limit_si;
  };
  REQUIRE(study.battery);
  const double product_w = study.battery->other_power->range.typical;
  CHECK(limit_w("a tenth of what the meter itself takes") == Approx(product_w / 10));
  const double year_s = 365.25 * 86400;
  const double stored_j = study.battery->capacity->range.typical * study.battery->voltage->range.typical;
  CHECK(limit_w("self-discharge of the battery is of this size") ==
        Approx(stored_j * study.battery->self_discharge.range.typical / year_s).epsilon(0.05));
}

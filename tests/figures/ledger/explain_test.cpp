#include "figures/ledger/explain.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <sstream>

#include "random_ledger_fixture.hpp"

using namespace portweigh::figures;

namespace {

Figure watts(Ledger& ledger, const std::string& key, Range range, Source source) {
  return ledger.input({.key = key,
                       .label = key,
                       .range = range,
                       .unit = parse_unit("mW"),
                       .source = std::move(source),
                       .correlation = ""});
}

}  // namespace

TEST_CASE("a sum is explained down to its sources") {
  Ledger ledger;
  const auto leakage = watts(ledger, "parts.pl-2k.leakage", {1e-3, 1.2e-3, 2e-3},
                             {"typical of 65 nm low-power fabrics", "catalog/pl-2k.toml", 12, 1});
  const auto clock_tree = watts(ledger, "clock-tree", exactly(3.1e-3), {"covering run", "", 0, 0});
  const auto toggling = watts(ledger, "toggling", {2e-3, 2.6e-3, 3e-3}, {"", "study.toml", 3, 9});
  const auto active =
      ledger.name(leakage + clock_tree + toggling, "active_power", "active power", parse_unit("mW"));
  const auto average =
      ledger.name(0.25 * active + leakage * 0.75, "average_power", "average", parse_unit("mW"));
  CHECK(to_text(explain(ledger, active)) ==
        "active_power = leakage + clock_tree + toggling\n"
        "             = 1.2 mW + 3.1 mW + 2.6 mW = 6.9 mW\n"
        "  leakage = 1.2 mW (1 mW .. 2 mW)\n"
        "    <- catalog/pl-2k.toml:12:1 \"typical of 65 nm low-power fabrics\"\n"
        "  clock_tree = 3.1 mW <- \"covering run\"\n"
        "  toggling = 2.6 mW (2 mW .. 3 mW) <- study.toml:3:9\n");
  CHECK(to_text(explain(ledger, average), 200) ==
        "average_power = 0.25 * active_power + leakage * 0.75 = 0.25 * 6.9 mW + 1.2 mW * 0.75 = 2.62 mW\n"
        "  active_power = leakage + clock_tree + toggling = 1.2 mW + 3.1 mW + 2.6 mW = 6.9 mW\n"
        "    leakage = 1.2 mW (1 mW .. 2 mW) <- catalog/pl-2k.toml:12:1 \"typical of 65 nm low-power "
        "fabrics\"\n"
        "    clock_tree = 3.1 mW <- \"covering run\"\n"
        "    toggling = 2.6 mW (2 mW .. 3 mW) <- study.toml:3:9\n"
        "  leakage = 1.2 mW (see above)\n");
}

TEST_CASE("the structure carries depth, label, value, range and source") {
  Ledger ledger;
  const auto leakage = watts(ledger, "parts.a.leakage", {1e-3, 2e-3, 3e-3}, {"guess", "a.toml", 1, 2});
  const auto doubled = ledger.name(2.0 * leakage, "doubled", "twice the leakage", parse_unit("W"));
  const std::vector<Setting> settings = {{"parts.a.leakage", 3e-3}};
  const auto lines = explain(ledger, doubled, settings).lines;
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].depth == 0);
  CHECK(lines[0].label == "twice the leakage");
  CHECK(lines[0].formula == "2 * leakage");
  CHECK(lines[0].numbers == "2 * 3 mW");
  CHECK(lines[0].value == "6 mW");
  CHECK(lines[0].value_si == 6e-3);
  CHECK_FALSE(lines[0].range.has_value());
  CHECK(lines[1].depth == 1);
  CHECK(lines[1].key == "parts.a.leakage");
  CHECK(lines[1].range == Range{1e-3, 2e-3, 3e-3});
  CHECK(lines[1].source.text == "guess");
}

TEST_CASE("formulas keep the parentheses they need and no others") {
  Ledger ledger;
  const auto number = [&](const std::string& key, double value) {
    return ledger.input(
        {.key = key, .label = "", .range = exactly(value), .unit = {}, .source = {}, .correlation = ""});
  };
  const auto a = number("a", 2);
  const auto b = number("b", 3);
  const auto c = number("c", 4);
  const auto formula = [&](Figure figure) { return explain(ledger, figure).lines[0].formula; };
  CHECK(formula(a - (b - c)) == "a - (b - c)");
  CHECK(formula(a - b - c) == "a - b - c");
  CHECK(formula((a + b) * c) == "(a + b) * c");
  CHECK(formula(a + b * c) == "a + b * c");
  CHECK(formula(a / (b * c)) == "a / (b * c)");
  CHECK(formula(a / b / c) == "a / b / c");
  CHECK(formula(power(a + b, 2.0)) == "(a + b)^2");
  CHECK(formula(power(a, b)) == "a^b");
  CHECK(formula(power(power(a, 2.0), 3.0)) == "(a^2)^3");
  CHECK(formula(maximum(a, b + c)) == "maximum(a, b + c)");
  CHECK(formula(round_up(a / b)) == "round_up(a / b)");
  CHECK(formula(select(at_least(a, b), b, c)) == "if(a >= b, b, c)");
  CHECK(formula(lookup(a, {{1}, {1}, {}, {}, Scale::linear, "price"})) == "price(a)");
}

TEST_CASE("a quantity with a unit is put in parentheses under a power") {
  Ledger ledger;
  const auto supply = ledger.input({.key = "supply",
                                    .label = "",
                                    .range = exactly(1.2),
                                    .unit = parse_unit("V"),
                                    .source = {},
                                    .correlation = ""});
  const auto line =
      explain(ledger, power(supply, 2.0) * ledger.constant(2e-9, dimensions::capacitance)).lines[0];
  CHECK(line.formula == "supply^2 * 2 nF");
  CHECK(line.numbers == "(1.2 V)^2 * 2 nF");
  CHECK(line.value == "2.88 nJ");
}

TEST_CASE("keys that end alike are written in full") {
  Ledger ledger;
  const auto a = watts(ledger, "parts.a.leakage", exactly(1e-3), {});
  const auto b = watts(ledger, "parts.b.leakage", exactly(2e-3), {});
  CHECK(explain(ledger, a + b).lines[0].formula == "parts.a.leakage + parts.b.leakage");
}

TEST_CASE("what is added to nothing is written alone, and nothing reads as zero") {
  Ledger ledger;
  const auto none = ledger.constant(0, dimensions::power, "none");
  const auto a = watts(ledger, "a", exactly(1e-3), {});
  const auto b = watts(ledger, "b", exactly(2e-3), {});
  const auto formula = [&](Figure figure) { return explain(ledger, figure).lines[0].formula; };
  CHECK(formula(2.0 * (none + a)) == "2 * a");
  CHECK(formula(2.0 * (none + a + b)) == "2 * (a + b)");
  CHECK(formula(2.0 * (none + a * 3.0)) == "2 * a * 3");
  const auto cells = ledger.name(none, "leaking", "", parse_unit("W"));
  CHECK(to_text(explain(ledger, cells)) == "leaking = 0 W\n");
}

TEST_CASE("a temperature of reference is in degrees like the one it is taken from, a difference in kelvin") {
  Ledger ledger;
  const auto ambient = ledger.input({.key = "ambient",
                                     .label = "",
                                     .range = exactly(303.15),
                                     .unit = parse_unit("degC"),
                                     .source = {},
                                     .correlation = ""});
  const auto reference =
      ledger.constant(298.15, dimensions::temperature, "25 degC, at which leakage is given");
  const auto doubling = ledger.constant(15, dimensions::temperature, "doubling");
  const auto explanation = explain(ledger, exp(std::numbers::ln2 * ((ambient - reference) / doubling)));
  CHECK(explanation.lines[0].formula == "exp(ln(2) * (ambient - 25 degC) / doubling)");
  CHECK(explanation.lines[0].numbers == "exp(ln(2) * (30 degC - 25 degC) / 15 K)");
  CHECK(to_text(explanation).find("\n  25 degC, at which leakage is given\n") != std::string::npos);
}

TEST_CASE("any explanation fits in 80 columns and expands each figure once") {
  const auto made = test::make_random_ledger(5, 6, 80);
  const auto explanation = explain(made.ledger, made.figures.back());
  std::istringstream text(to_text(explanation));
  for (std::string line; std::getline(text, line);) CHECK(line.size() <= 80);
  std::vector<std::uint32_t> expanded;
  for (const auto& line : explanation.lines) {
    if (!line.is_repeated) expanded.push_back(line.node);
  }
  std::sort(expanded.begin(), expanded.end());
  CHECK(std::adjacent_find(expanded.begin(), expanded.end()) == expanded.end());
}

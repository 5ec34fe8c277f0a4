#include "figures/ledger/ledger.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "figures/evaluation/evaluate.hpp"

using namespace portweigh::figures;

namespace {

Figure enter(Ledger& ledger, const std::string& key, const std::string& unit, double typical) {
  return ledger.input({.key = key,
                       .label = key,
                       .range = {typical * 0.5, typical, typical * 2.0},
                       .unit = parse_unit(unit),
                       .source = {},
                       .correlation = ""});
}

template <class Error, class Action>
std::string complaint(Action action) {
  try {
    action();
  } catch (const Error& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace

// [C] P = alpha C V^2 f + I_leak V; 0.1, 1 nF, 1.2 V, 48 MHz: 6.912 mW, to which 10 uA at 1.2 V adds 12 uW.
TEST_CASE("a formula reads like the handbook and gives its number") {
  Ledger ledger;
  const auto activity = enter(ledger, "activity", "1", 0.1);
  const auto capacitance = enter(ledger, "capacitance", "nF", 1e-9);
  const auto supply = enter(ledger, "supply", "V", 1.2);
  const auto clock = enter(ledger, "clock", "MHz", 48e6);
  const auto leakage = enter(ledger, "leakage", "uA", 10e-6);
  const auto switching = activity * capacitance * power(supply, 2.0) * clock;
  const auto total =
      ledger.name(switching + leakage * supply, "active_power", "active power", parse_unit("mW"));
  CHECK(total.dimension() == dimensions::power);
  CHECK(evaluate(ledger, switching) == Approx(6.912e-3));
  CHECK(evaluate(ledger, total) == Approx(6.924e-3));
  CHECK(total.key() == "active_power");
  CHECK(ledger.at("active_power").index() == total.index());
  CHECK(ledger.name_of(total.index())->label == "active power");
  CHECK(ledger.named_nodes() == std::vector<std::uint32_t>{total.index()});
}

TEST_CASE("adding watts to hertz is refused when the formula is built") {
  Ledger ledger;
  const auto leakage = enter(ledger, "parts.a.leakage", "mW", 1e-3);
  const auto clock = enter(ledger, "clock", "MHz", 1e6);
  CHECK(complaint<DimensionError>([&] { (void)(leakage + clock); }) ==
        "cannot add \"parts.a.leakage\" (power (W)) and \"clock\" (frequency (Hz))");
  CHECK(complaint<DimensionError>([&] { (void)(leakage - 2.0 * clock); }) ==
        "cannot subtract \"2 * clock\" (frequency (Hz)) from \"parts.a.leakage\" (power (W))");
  CHECK(complaint<DimensionError>([&] { (void)log(clock); }) ==
        "cannot take the logarithm of \"clock\" (frequency (Hz)), expected a plain number");
  CHECK_THROWS_AS(leakage + 1.0, DimensionError);
  CHECK_THROWS_AS(minimum(leakage, clock), DimensionError);
  CHECK_THROWS_AS(maximum(leakage, clock), DimensionError);
  CHECK_THROWS_AS(at_least(leakage, clock), DimensionError);
  CHECK_THROWS_AS(exp(leakage), DimensionError);
  CHECK_THROWS_AS(round_up(leakage), DimensionError);
  CHECK_THROWS_AS(select(leakage, clock, clock), DimensionError);
  CHECK_THROWS_AS(select(ledger.constant(1.0), leakage, clock), DimensionError);
  CHECK_THROWS_AS(power(leakage, 0.5), DimensionError);
  CHECK_THROWS_AS(power(leakage, ledger.constant(2.0)), DimensionError);
  CHECK_THROWS_AS(lookup(clock, {{1}, {1}, dimensions::power, {}, Scale::linear, "t"}), DimensionError);
  CHECK_THROWS_AS(ledger.name(leakage / clock, "x", "x", parse_unit("W")), DimensionError);
  const auto length = ledger.constant(9.0, dimensions::area);
  CHECK(power(length, 0.5).dimension() == dimensions::length);
}

TEST_CASE("asking for a known input gives the same node, unless it differs") {
  Ledger ledger;
  const auto first = enter(ledger, "clock", "MHz", 1e6);
  CHECK(enter(ledger, "clock", "kHz", 1e6).index() == first.index());
  CHECK(ledger.inputs().size() == 1);
  CHECK_THROWS_AS(enter(ledger, "clock", "MHz", 2e6), LedgerError);
  CHECK_THROWS_AS(enter(ledger, "clock", "W", 1e6), LedgerError);
}

TEST_CASE("names are given once; naming an input makes an equal figure") {
  Ledger ledger;
  const auto clock = enter(ledger, "clock", "MHz", 1e6);
  const auto alias = ledger.name(clock, "required_clock", "required clock", parse_unit("kHz"));
  CHECK(alias.index() != clock.index());
  CHECK(evaluate(ledger, alias) == 1e6);
  CHECK_THROWS_AS(ledger.name(clock + clock, "clock", "", parse_unit("Hz")), LedgerError);
  CHECK_THROWS_AS(ledger.name(clock + clock, "", "", parse_unit("Hz")), LedgerError);
  CHECK_THROWS_AS(enter(ledger, "required_clock", "Hz", 1.0), LedgerError);
  CHECK_FALSE(ledger.find("nothing").has_value());
  CHECK_THROWS_AS(ledger.at("nothing"), LedgerError);
}

TEST_CASE("broken inputs and mixed ledgers are refused") {
  Ledger ledger;
  Ledger other;
  const auto a = enter(ledger, "a", "1", 1.0);
  const auto b = enter(other, "b", "1", 1.0);
  const auto broken = [&](Range range) {
    CHECK_THROWS_AS(
        ledger.input({.key = "x", .label = "", .range = range, .unit = {}, .source = {}, .correlation = ""}),
        LedgerError);
  };
  broken({1.0, std::numeric_limits<double>::quiet_NaN(), 2.0});
  broken({1.0, 2.0, std::numeric_limits<double>::infinity()});
  broken({2.0, 1.0, 3.0});
  broken({1.0, 3.0, 2.0});
  CHECK_THROWS_AS(a + b, LedgerError);
  CHECK_THROWS_AS(ledger.name(b, "c", "", {}), LedgerError);
  CHECK_THROWS_AS(a * std::numeric_limits<double>::infinity(), LedgerError);
  CHECK_THROWS_AS(ledger.constant(std::nan("")), LedgerError);
  CHECK_THROWS_AS(sum({}), LedgerError);
  CHECK_THROWS_AS(ledger.figure(1000), LedgerError);
}

TEST_CASE("all money of a ledger is in one currency") {
  Ledger ledger;
  (void)enter(ledger, "price", "USD", 1.0);
  CHECK(ledger.currency() == "USD");
  CHECK(complaint<LedgerError>([&] { (void)enter(ledger, "labour", "EUR/h", 1.0); }) ==
        "\"labour\" is in EUR, but the other figures of this ledger are in USD");
}

TEST_CASE("figures stay valid when the ledger moves") {
  Ledger ledger;
  const auto clock = enter(ledger, "clock", "MHz", 1e6);
  const auto moved = std::move(ledger);
  const auto doubled = clock * 2.0;
  CHECK(evaluate(moved, doubled) == 2e6);
}

TEST_CASE("operations have names that read back") {
  for (int i = 0; i <= static_cast<int>(Operation::select); ++i) {
    const auto operation = static_cast<Operation>(i);
    CHECK(operation_from_string(to_string(operation)) == operation);
  }
  CHECK_FALSE(operation_from_string("add ").has_value());
}

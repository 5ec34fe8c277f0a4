#include "figures/ledger/compare.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::figures;

namespace {

Ledger make(double clock_hz, double energy_j, bool has_standby) {
  Ledger ledger;
  const auto clock = ledger.input({.key = "clock",
                                   .label = "",
                                   .range = exactly(clock_hz),
                                   .unit = parse_unit("MHz"),
                                   .source = {},
                                   .correlation = ""});
  const auto energy = ledger.input({.key = "energy",
                                    .label = "",
                                    .range = exactly(energy_j),
                                    .unit = parse_unit("pJ"),
                                    .source = {},
                                    .correlation = ""});
  (void)ledger.name(clock * energy, "active", "", parse_unit("mW"));
  (void)ledger.name(energy * 2.0, "pair", "", parse_unit("pJ"));
  if (has_standby) (void)ledger.name(0.1 * ledger.at("active"), "standby", "", parse_unit("mW"));
  return ledger;
}

}  // namespace

TEST_CASE("two equal runs differ in nothing") {
  const auto change = compare(make(1e6, 1e-9, true), make(1e6, 1e-9, true));
  CHECK(change.inputs.empty());
  CHECK(change.figures.empty());
}

TEST_CASE("the input that moved and the figures that followed") {
  const auto change = compare(make(1e6, 1e-9, true), make(2e6, 1e-9, true));
  REQUIRE(change.inputs.size() == 1);
  CHECK(change.inputs[0].key == "clock");
  CHECK(change.inputs[0].before == exactly(1e6));
  CHECK(change.inputs[0].after == exactly(2e6));
  REQUIRE(change.figures.size() == 2);
  CHECK(change.figures[0].key == "active");
  CHECK(*change.figures[0].before_si == Approx(1e-3));
  CHECK(*change.figures[0].after_si == Approx(2e-3));
  CHECK(change.figures[1].key == "standby");
}

TEST_CASE("figures that came or went are told") {
  const auto gone = compare(make(1e6, 1e-9, true), make(1e6, 1e-9, false));
  REQUIRE(gone.figures.size() == 1);
  CHECK(gone.figures[0].key == "standby");
  CHECK_FALSE(gone.figures[0].after_si.has_value());
  const auto come = compare(make(1e6, 1e-9, false), make(1e6, 1e-9, true));
  REQUIRE(come.figures.size() == 1);
  CHECK_FALSE(come.figures[0].before_si.has_value());
}

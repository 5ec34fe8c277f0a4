#include "report/terminal/calibration_text.hpp"

#include <toml++/toml.h>
#include <nlohmann/json.hpp>

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::report;

namespace {

exploration::Calibration made() {
  exploration::Calibration calibration;
  calibration.classes.push_back({"crc",
                                 "LUTs",
                                 {{"crc width=32", 47, 56, true}},
                                 {0.8, 1.0, 1.65},
                                 {0.8512, 1.02, 1.35},
                                 {"", "spreads.toml", 3, 1}});
  calibration.classes.push_back({"8-bit-two-stage",
                                 "code bytes",
                                 {{"crc", 60, 90, false}},
                                 {0.9, 1.0, 1.2},
                                 {0.913, 1.046, 1.1999},
                                 {"", "core.toml", 0, 0}});
  exploration::CoefficientFit fit;
  fit.measured = {
      "a.toml", "pl-a", "active_power", "parts.pl-a.toggle_energy", 5e-3, figures::parse_unit("mW"), {}};
  fit.input_unit = figures::parse_unit("pJ");
  fit.input_before = 1e-12;
  fit.input_range = {0.5e-12, 1e-12, 2e-12};
  fit.place = {"", "pl-a.toml", 7, 3};
  calibration.coefficients.push_back(fit);
  return calibration;
}

}  // namespace

TEST_CASE("lines for the catalog are TOML, rounded outwards, with their source escaped") {
  const std::string text = calibration_text(made(), "a \"quoted\" name");
  CHECK_THAT(text, Catch::Contains("crc, LUTs: 1 measured, 1 inside 0.80..1.65 of the estimate"));
  const auto first = text.find("  [luts.crc]");
  REQUIRE(first != std::string::npos);
  const auto spreads = toml::parse(text.substr(first, text.find("\n\n", first) - first));
  CHECK(spreads["luts"]["crc"]["low_factor"].value<double>() == 0.85);
  CHECK(spreads["luts"]["crc"]["high_factor"].value<double>() == 1.35);
  CHECK_THAT(spreads["luts"]["crc"]["source"].value<std::string>().value_or(""),
             Catch::Contains("a \"quoted\" name"));
  const auto second = text.find("  [compiler.bytes]");
  REQUIRE(second != std::string::npos);
  const auto factors = toml::parse(text.substr(second, text.find("\n\n", second) - second));
  CHECK(factors["compiler"]["bytes"]["low"].value<double>() == 0.91);
  CHECK(factors["compiler"]["bytes"]["typical"].value<double>() == 1.05);
  CHECK(factors["compiler"]["bytes"]["high"].value<double>() == 1.2);
}

TEST_CASE("a coefficient that can't be solved for says so, in text and JSON") {
  auto calibration = made();
  CHECK_THAT(calibration_text(calibration, "x"), Catch::Contains("no value from a twentieth"));
  CHECK(calibration_json(calibration)["coefficients"][0]["after"].is_null());
  calibration.coefficients[0].fitted = 3e-12;
  CHECK_THAT(calibration_text(calibration, "x"), Catch::Contains("outside"));
  CHECK(calibration_json(calibration)["coefficients"][0]["after"] == 3e-12);
  CHECK(calibration_json(calibration)["classes"][0]["observations"][0]["inside"] == true);
}

TEST_CASE("what becomes of the middle is said where the catalog has no place for it") {
  auto calibration = made();
  const std::string near = calibration_text(calibration, "x");
  CHECK_THAT(near, Catch::Contains("The estimate of LUTs stays; only its range moves.\n"));
  CHECK_THAT(near, !Catch::Contains("far from 1"));
  calibration.classes[0].after.centre = 1.67;
  CHECK_THAT(calibration_text(calibration, "x"),
             Catch::Contains("A centre of 1.67 is far from") && Catch::Contains("about 1.67 times"));
}

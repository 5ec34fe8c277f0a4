// The rule of calibration.hpp worked by hand, and coefficients solved for on the demo.
#include "exploration/calibration.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "demo_study_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"

using namespace portweigh;
using namespace portweigh::exploration;

namespace {

// A study's options are the same for each test, so the demo's catalog and blocks serve all.
Calibration calibration_of(const std::string& text) {
  const auto file = std::filesystem::temp_directory_path() / "portweigh-calibration.toml";
  std::ofstream(file) << text;
  tests::DemoStudy& demo = tests::demo_study();
  return calibrate(read_measured(file, demo.catalog), demo.catalog, demo.effort, demo.library, 2);
}

std::string demo_path() {
  return std::filesystem::relative(std::filesystem::path(PORTWEIGH_STUDIES_DIR) / "flow-meter.toml",
                                   std::filesystem::temp_directory_path())
      .generic_string();
}

std::string bench(const std::string& option, const std::string& measured, const std::string& input) {
  return "name = \"bench\"\n[[bench]]\nstudy = \"" + demo_path() + "\"\noption = \"" + option +
         "\"\nfigure = \"active_power\"\nmeasured = \"" + measured + "\"\ninput = \"" + input + "\"\n";
}

}  // namespace

TEST_CASE("one observation leans on three of the catalog") {
  // By hand: M = 0, q(0) = 1.645 sqrt(4/3) = 1.899482, S = ln(1.25/0.8)/(2 q(0)) = 0.117476;
  // m = ln(1.2)/4 = 0.045580, s = sqrt(((0.182322 - 0.045580)^2 + 3 * 0.117476^2)/4) = 0.122576;
  // q(1) = 1.645 sqrt(5/4) = 1.839166.
  const double x[] = {std::log(1.2)};
  const FittedRange fitted = lean_on(x, {0.8, 1.0, 1.25});
  CHECK(fitted.centre == Approx(std::exp(0.045580)).epsilon(1e-5));
  CHECK(fitted.low == Approx(0.835389).epsilon(1e-5));
  CHECK(fitted.high == Approx(1.311300).epsilon(1e-5));
}

TEST_CASE("without observations the range stays, and many of them take over") {
  const FittedRange same = lean_on({}, {0.8, 1.0, 1.25});
  CHECK(same.low == Approx(0.8));
  CHECK(same.high == Approx(1.25));
  const std::vector<double> many(3000, std::log(1.5));
  const FittedRange moved = lean_on(many, {0.8, 1.0, 1.25});
  CHECK(moved.centre == Approx(1.5).epsilon(0.002));
  CHECK(moved.low == Approx(0.95 * moved.centre));
  CHECK(moved.high == Approx(1.05 * moved.centre));
}

TEST_CASE("blocks are compared with their counts, by class and core") {
  const std::string crc = "block = \"crc\"\nsettings = { width = 32, bits_per_clock = 8 }\n";
  const Calibration calibration = calibration_of("name = \"three\"\n[[synthesis]]\n" + crc +
                                                 "lut_inputs = 4\nluts = 60\n[[synthesis]]\n" + crc +
                                                 "lut_inputs = 6\nluts = 500\n[[firmware]]\nblock = "
                                                 "\"crc\"\ncore = \"8-bit-two-stage\"\ncycles = 120\n");
  REQUIRE(calibration.classes.size() == 2);
  const ClassFit& luts = calibration.classes[0];
  CHECK(luts.name == "crc");
  REQUIRE(luts.observations.size() == 2);
  CHECK(luts.observations[0].is_inside);
  CHECK_FALSE(luts.observations[1].is_inside);
  CHECK(luts.after.high > luts.before.high);
  CHECK(calibration.classes[1].name == "8-bit-two-stage");
  CHECK(calibration.classes[1].counted == "cycles");
}

TEST_CASE("a coefficient is the value that gives what was measured") {
  const Calibration calibration = calibration_of(bench("pl-sram-b", "5 mW", "parts.pl-sram-b.toggle_energy"));
  REQUIRE(calibration.coefficients.size() == 1);
  const CoefficientFit& fit = calibration.coefficients[0];
  REQUIRE(fit.fitted);
  const auto& all = tests::demo_study().considered.options;
  const auto option =
      std::find_if(all.begin(), all.end(), [](const options::Option& one) { return one.id == "pl-sram-b"; });
  REQUIRE(option != all.end());
  const figures::Setting setting{"parts.pl-sram-b.toggle_energy", *fit.fitted};
  CHECK(figures::evaluate(option->ledger, option->ledger.at("active_power"), {&setting, 1}) ==
        Approx(5e-3).epsilon(1e-9));
  CHECK(*fit.fitted > fit.input_before);
}

TEST_CASE("a figure out of reach has no coefficient, and wrong names are told") {
  CHECK_FALSE(
      calibration_of(bench("pl-sram-b", "5 W", "parts.pl-sram-b.toggle_energy")).coefficients[0].fitted);
  CHECK_THROWS_WITH(calibration_of(bench("pl-sram-b", "5 mW", "parts.pl-sram-b.togle_energy")),
                    Catch::Contains(":2:1: unknown input") &&
                        Catch::Contains("nearest: \"parts.pl-sram-b.toggle_energy\""));
  CHECK_THROWS_WITH(calibration_of(bench("pl-sram-z", "5 mW", "duty_cycle")),
                    Catch::Contains("unknown option \"pl-sram-z\""));
  CHECK_THROWS_WITH(calibration_of("name = \"x\"\n[[firmware]]\nblock = \"crc\"\ncore = "
                                   "\"8-bit-two-stage\"\nmethod = \"bytewise\"\ncycles = 1\n"),
                    Catch::Contains("unknown method \"bytewise\""));
}

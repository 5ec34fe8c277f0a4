#include "report/places.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "figures/ledger/export.hpp"

using namespace portweigh;
using report::Places;

TEST_CASE("files of the catalog are told from its folder, others from the study's") {
  const Places places("/home/someone/parts", "/home/someone/work/meter.toml");
  CHECK(places.of({"", "/home/someone/parts/external/a.toml", 3, 7}) == "catalog/external/a.toml:3:7");
  CHECK(places.of({"", "/home/someone/work/meter.toml", 30, 1}) == "meter.toml:30:1");
  CHECK(places.of({"", "/home/someone/other.toml", 0, 0}) == "../other.toml");
  CHECK(places.of({"covering run", "", 0, 0}).empty());
}

TEST_CASE("paths from the current folder, with dots or a slash at the end, give the same") {
  const Places places("./data/parts/", "data/studies/../meter.toml");
  CHECK(places.file("data/parts/spreads.toml") == "catalog/spreads.toml");
  CHECK(places.file("data/meter.toml") == "meter.toml");
  const std::string whole = (std::filesystem::current_path() / "data" / "parts" / "spreads.toml").string();
  CHECK(places.file(whole) == "catalog/spreads.toml");
  // A folder whose name only begins like the catalog's is another one.
  CHECK(places.file("data/parts-of-others/a.toml") == "parts-of-others/a.toml");
}

TEST_CASE("without folders a file stays as it is") {
  CHECK(Places().file("/a/b.toml") == "/a/b.toml");
}

TEST_CASE("every source of a ledger, an explanation and a calibration is put so") {
  const Places places("/p", "/s/meter.toml");
  figures::Ledger ledger;
  const auto one = ledger.input(
      {"a", "a", figures::exactly(1), figures::parse_unit("W"), {"", "/p/external/a.toml", 3, 7}, ""});
  const auto other = ledger.input(
      {"b", "b", figures::exactly(2), figures::parse_unit("W"), {"", "/s/meter.toml", 4, 1}, ""});
  const auto both = ledger.name(one + other, "both", "both", figures::parse_unit("W"));
  const std::string json = places.in(figures::to_json(ledger)).dump();
  CHECK_THAT(json, Catch::Contains("\"catalog/external/a.toml\"") && Catch::Contains("\"meter.toml\"") &&
                       !Catch::Contains("/p/") && !Catch::Contains("/s/"));
  const std::string text = figures::to_text(places.in(figures::explain(ledger, both)));
  CHECK_THAT(text, Catch::Contains("<- catalog/external/a.toml:3:7") && Catch::Contains("<- meter.toml:4:1"));
  exploration::Calibration calibration;
  calibration.classes.push_back({"crc", "LUTs", {}, {}, {}, {"", "/p/spreads.toml", 3, 1}});
  calibration.coefficients.emplace_back().place = {"", "/p/external/a.toml", 3, 7};
  calibration = places.in(std::move(calibration));
  CHECK(calibration.classes[0].place.file == "catalog/spreads.toml");
  CHECK(calibration.coefficients[0].place.file == "catalog/external/a.toml");
}

// The default catalog reads without a mistake, is labelled as invented, and gives every part what options
// need of it. Mistakes of several files are told together.
#include "parts/catalog.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>

#include "blocks/registry.hpp"
#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

const Catalog& default_catalog() {
  static const Catalog catalog = [] {
    try {
      return read_catalog(PORTWEIGH_CATALOG_DIR);
    } catch (const reading::InputError& error) {
      FAIL(error.what());
      throw;
    }
  }();
  return catalog;
}

TEST_CASE("the default catalog holds parts of every kind") {
  const auto& catalog = default_catalog();
  CHECK(catalog.programmable_logic.size() >= 6);
  CHECK(catalog.microcontrollers.size() >= 7);
  CHECK(catalog.fixed_functions.size() >= 4);
  CHECK(catalog.external_parts.size() >= 8);
  for (const char* core :
       {"8-bit-two-stage", "8-bit-accumulator", "16-bit-register", "32-bit-two-stage", "32-bit-sequential"}) {
    CHECK(catalog.cores.contains(core));
  }
}

TEST_CASE("programmable logic of the default catalog has the sizes of its rule, in the range of its class") {
  std::set<unsigned> cells;
  for (const auto& device : default_catalog().programmable_logic) {
    cells.insert(device.cells);
    INFO(device.part.id);
    // Class-typical bands, common practice: leakage of small low-power fabrics, energy of a toggle with its
    // routing on 90 to 28 nm.
    CHECK(device.leakage_current.range.typical >= 25e-6);
    CHECK(device.leakage_current.range.typical <= 1e-3);
    CHECK(device.toggle_energy.range.low >= 0.3e-12);
    CHECK(device.toggle_energy.range.high <= 3e-12);
    CHECK(device.leakage_current.range.low < device.leakage_current.range.typical);
    CHECK(device.leakage_current.range.high > device.leakage_current.range.typical);
    CHECK_FALSE(device.leakage_current.source.text.empty());
  }
  // Series of catalog/README.md: 540 x 1.9^n, 1640 x 2.05^n and 4700 cells, to the tens.
  std::set<unsigned> series = {4700};
  for (const auto& [first, growth] : {std::pair{540.0, 1.9}, std::pair{1640.0, 2.05}}) {
    for (int place = 0; place < 4; ++place) {
      series.insert(static_cast<unsigned>(std::lround(first * std::pow(growth, place) / 10)) * 10);
    }
  }
  CHECK(cells == series);
}

TEST_CASE("memory of a microcontroller is held in bytes and its clocks in hertz") {
  const auto& all = default_catalog().microcontrollers;
  const auto small = std::find_if(all.begin(), all.end(),
                                  [](const auto& device) { return device.part.id == "mcu-32b-small"; });
  REQUIRE(small != all.end());
  CHECK(small->flash_bytes == 49152);
  CHECK(small->ram_bytes == 4864);
  CHECK(small->clocks.back().value_si == 52.8e6);
  CHECK(small->run_current_per_clock.range.typical == Approx(270e-12));  // 270 uA/MHz = 270 pC a clock
  CHECK(small->peripherals.at("capture") == 3);
  CHECK(small->peripherals.at("dma") == 5);
}

TEST_CASE("every 32-bit microcontroller of 48 MHz and more has what such parts have") {
  int seen = 0;
  for (const auto& device : default_catalog().microcontrollers) {
    if (!device.core.starts_with("32-bit") || device.clocks.back().value_si < 48e6) continue;
    ++seen;
    INFO(device.part.id);
    for (const char* name : {"dma", "crc-unit", "bit-serial-port", "uart"}) {
      CHECK(device.peripherals.contains(name));
    }
  }
  CHECK(seen >= 5);
}

TEST_CASE("every part remembers where its values come from") {
  for (const auto& device : default_catalog().fixed_functions) {
    INFO(device.part.id);
    CHECK_FALSE(device.part.source.text.empty());
    CHECK(device.active_current.source.line > 0);
    CHECK(device.active_current.source.file.find(device.part.id + ".toml") != std::string::npos);
    CHECK_FALSE(device.active_current.source.text.empty());
  }
}

TEST_CASE("every catalog file of a part says that it is invented") {
  for (const char* folder : {"programmable-logic", "microcontrollers", "fixed-function", "external"}) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(PORTWEIGH_CATALOG_DIR) / folder)) {
      std::ifstream file(entry.path());
      std::string first;
      std::getline(file, first);
      INFO(entry.path());
      CHECK(first.starts_with("# Invented"));
      CHECK(first.find("no part on sale") != std::string::npos);
    }
  }
  const Catalog& catalog = default_catalog();
  const auto check = [](const auto& parts) {
    for (const auto& one : parts) {
      INFO(one.part.id);
      CHECK(one.part.is_invented);
    }
  };
  check(catalog.programmable_logic);
  check(catalog.microcontrollers);
  check(catalog.fixed_functions);
  for (const ExternalPart& part : catalog.external_parts) {
    INFO(part.id);
    CHECK(part.is_invented);
  }
}

TEST_CASE("mistakes of all files of a catalog are told together") {
  const auto folder = std::filesystem::temp_directory_path() / fmt::format("catalog-test-{}", getpid());
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder / "fixed-function");
  std::filesystem::create_directories(folder / "external");
  const auto write = [&](const char* name, const std::string& text) { std::ofstream(folder / name) << text; };
  write("spreads.toml", "[luts.default]\nlow_factor = 0.6\nhigh_factor = 1.8\n");
  write("currencies.toml", "base = \"USD\"\n[rates.EUR]\nper_base = 0.96\n");
  write("fixed-function/part.toml", texts::changed(texts::fixed_function(), "\"1.8 mA\"", "\"1.8 mW\""));
  write("external/part.toml", texts::external_part());
  write("external/broken.toml", "id = \n");
  std::vector<std::string> told;
  try {
    (void)read_catalog(folder);
  } catch (const reading::InputError& error) {
    for (const auto& mistake : error.diagnostics().all()) {
      told.push_back(fmt::format(
          "{}:{}", std::filesystem::path(mistake.file).lexically_relative(folder).string(), mistake.line));
    }
  }
  std::filesystem::remove_all(folder);
  CHECK(told == std::vector<std::string>{"currencies.toml:2", "fixed-function/part.toml:14",
                                         "external/broken.toml:1", "external/part.toml:1"});
}

TEST_CASE("a catalog that isn't there is bad input") {
  CHECK_THROWS_AS(read_catalog("/nowhere/catalog"), reading::InputError);
}

TEST_CASE("every class of block has a spread, and every spread a class") {
  const auto& spreads = default_catalog().lut_spreads;
  std::set<std::string> classes = {"default"};
  for (const auto& kind : blocks::kinds()) {
    classes.insert(kind.spread_class);
    INFO(kind.name << " is of class " << kind.spread_class);
    CHECK((kind.spread_class.empty() || spreads.contains(kind.spread_class)));
  }
  for (const auto& [name, spread] : spreads) {
    INFO(name);
    CHECK(classes.contains(name));
    CHECK_FALSE(spread.source.text.empty());
  }
}

}  // namespace
}  // namespace portweigh::parts

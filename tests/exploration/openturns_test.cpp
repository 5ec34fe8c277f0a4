// The demo's own figures by an independent program: OpenTURNS samples the ledger's inputs by its own
// triangular distributions, NumPy evaluates the exported formulas, and OpenTURNS estimates the Sobol indices
// by the methods of Saltelli and Jansen. Fails where python3-openturns is not installed.
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "demo_study_fixture.hpp"
#include "exploration/variance.hpp"
#include "figures/ledger/export.hpp"

using namespace portweigh;

namespace {

nlohmann::json drivers_of(const options::Option& option, const std::string& key) {
  constexpr Eigen::Index samples = 1 << 13;
  const exploration::FigureDrivers found =
      exploration::figure_drivers(option.ledger, option.ledger.at(key), samples, 1);
  nlohmann::json drivers = nlohmann::json::array();
  for (const exploration::Driver& driver : found.drivers) {
    drivers.push_back(
        {{"coordinate", driver.coordinate}, {"first", driver.first.value}, {"total", driver.total.value}});
  }
  return {{"figure", key}, {"mean", found.mean}, {"variance", found.variance}, {"drivers", drivers}};
}

}  // namespace

TEST_CASE("OpenTURNS agrees on mean, variance and indices of the demo's figures") {
  std::size_t checked = 0;
  for (const options::OptionKind kind : {options::OptionKind::programmable_logic,
                                         options::OptionKind::microcontroller, options::OptionKind::split}) {
    const auto& all = tests::demo_study().considered.options;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.kind == kind; });
    if (found == all.end()) continue;
    nlohmann::json data = {{"ledger", figures::to_json(found->ledger)}, {"results", nlohmann::json::array()}};
    for (const char* key : {"average_power", "unit_cost", "cost_per_unit_over_life"}) {
      data["results"].push_back(drivers_of(*found, key));
    }
    const std::filesystem::path file = std::filesystem::temp_directory_path() /
                                       ("portweigh-figures-" + std::to_string(::getpid()) + ".json");
    std::ofstream(file) << data.dump();
    const std::string command =
        "/usr/bin/python3 " PORTWEIGH_TESTS_DIR "/reference/ledger_figures.py check " + file.string();
    const int status = std::system(command.c_str());
    std::filesystem::remove(file);
    INFO(found->id);
    CHECK(status == 0);
    ++checked;
  }
  CHECK(checked == 3);
}

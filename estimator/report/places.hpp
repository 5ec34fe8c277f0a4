// Where files are said to lie in all that is saved or printed: the same on every machine.
//
//     catalog/microcontrollers/mcu.toml   a file of the catalog, from the catalog's folder, whatever its name
//     flow-meter.toml                     any other file, from the folder of the study
// Mistakes on the error stream keep the path as it was typed. Tested by tests/report/places_test.cpp.
#pragma once

#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "exploration/calibration.hpp"
#include "figures/ledger/explain.hpp"

namespace portweigh::report {

class Places {
 public:
  // Files stay as they are.
  Places() = default;
  // `file` is the study, or what stands in its place (a file of measured results).
  Places(const std::filesystem::path& catalog_folder, const std::filesystem::path& file);

  [[nodiscard]] std::string file(const std::string& path) const;
  // catalog/x.toml:12:1; empty for computed inputs.
  [[nodiscard]] std::string of(figures::Source source) const;
  // With the files of its sources put this way.
  [[nodiscard]] figures::Explanation in(figures::Explanation explanation) const;
  [[nodiscard]] exploration::Calibration in(exploration::Calibration calibration) const;
  [[nodiscard]] nlohmann::json in(nlohmann::json ledger) const;  // as figures::to_json gives it

 private:
  std::filesystem::path catalog_;  // absolute, normal; empty: files stay as they are
  std::filesystem::path folder_;
};

}  // namespace portweigh::report

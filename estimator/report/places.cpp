#include "report/places.hpp"

#include <map>
#include <nlohmann/json.hpp>

namespace portweigh::report {
namespace {

namespace fs = std::filesystem;

// Absolute, without dots, and without a slash at its end.
fs::path whole(const fs::path& path) {
  const fs::path normal = fs::absolute(path).lexically_normal();
  return normal.has_filename() ? normal : normal.parent_path();
}

}  // namespace

Places::Places(const fs::path& catalog_folder, const fs::path& file)
    : catalog_(whole(catalog_folder)), folder_(whole(file).parent_path()) {}

std::string Places::file(const std::string& path) const {
  if (path.empty() || catalog_.empty()) return path;
  const fs::path from_catalog = whole(path).lexically_relative(catalog_);
  if (*from_catalog.begin() != "..") return (fs::path("catalog") / from_catalog).generic_string();
  return whole(path).lexically_relative(folder_).generic_string();
}

std::string Places::of(figures::Source source) const {
  source.file = file(source.file);
  return figures::place_of(source);
}

figures::Explanation Places::in(figures::Explanation explanation) const {
  for (figures::ExplanationLine& line : explanation.lines) line.source.file = file(line.source.file);
  return explanation;
}

exploration::Calibration Places::in(exploration::Calibration calibration) const {
  for (auto& fit : calibration.classes) fit.place.file = file(fit.place.file);
  for (auto& fit : calibration.coefficients) fit.place.file = file(fit.place.file);
  return calibration;
}

nlohmann::json Places::in(nlohmann::json ledger) const {
  std::map<std::string, std::string> known;  // few files, named often
  for (nlohmann::json& node : ledger.at("nodes")) {
    if (!node.contains("source")) continue;
    nlohmann::json& path = node["source"]["file"];
    const auto [found, is_new] = known.try_emplace(path.get<std::string>());
    if (is_new) found->second = file(found->first);
    path = found->second;
  }
  return ledger;
}

}  // namespace portweigh::report

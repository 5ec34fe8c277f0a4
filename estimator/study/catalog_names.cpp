#include "study/catalog_names.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <set>

#include "reading/table_reader.hpp"

namespace portweigh::study {
namespace {

void add_file_names(std::vector<std::string>& names, const std::filesystem::path& folder) {
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
}

std::vector<std::string> currency_codes(const std::filesystem::path& file) {
  std::vector<std::string> codes;
  if (!std::filesystem::exists(file)) return codes;
  try {
    const auto document = reading::Document::load(file);
    const auto& table = document.table();
    if (const auto base = table["base"].value<std::string>()) codes.push_back(*base);
    if (const auto* rates = table["rates"].as_table()) {
      for (const auto& [code, rate] : *rates) {
        if (rate.is_table()) codes.emplace_back(code.str());
      }
    }
  } catch (const reading::InputError&) {
    codes.clear();  // the catalog's own reader tells what is wrong with the file
  }
  std::sort(codes.begin(), codes.end());
  return codes;
}

// Adds the revision groups that the blocks of a function's file name, whatever else is wrong with it.
void add_revision_groups(std::set<std::string>& groups, const std::filesystem::path& file) {
  try {
    const auto document = reading::Document::load(file);
    const auto* blocks = document.table()["block"].as_array();
    if (blocks == nullptr) return;
    for (const auto& block : *blocks) {
      const auto* table = block.as_table();
      if (table == nullptr) continue;
      if (const auto group = (*table)["revision_group"].value<std::string>()) groups.insert(*group);
    }
  } catch (const reading::InputError&) {
    return;  // told when the function is read
  }
}

}  // namespace

CatalogNames names_in_catalog(const std::filesystem::path& catalog_folder) {
  CatalogNames names;
  add_file_names(names.functions, catalog_folder / "functions");
  add_file_names(names.core_classes, catalog_folder / "cores");
  for (const char* kind : {"programmable-logic", "microcontrollers", "fixed-function"}) {
    add_file_names(names.parts, catalog_folder / kind);
  }
  std::sort(names.parts.begin(), names.parts.end());
  std::set<std::string> groups;
  for (const auto& name : names.functions) {
    add_revision_groups(groups, catalog_folder / "functions" / (name + ".toml"));
  }
  names.revision_groups.assign(groups.begin(), groups.end());
  names.currencies = currency_codes(catalog_folder / "currencies.toml");
  return names;
}

}  // namespace portweigh::study

// catalog/schema/{function,study}.schema.json say exactly what the readers accept.
//
// After a field was added, run study_tests "[write-schemas]" to write them anew.
#include <toml++/toml.h>
#include <algorithm>

#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>

#include "blocks/registry.hpp"
#include "reading/atomic_file.hpp"
#include "reading/document.hpp"
#include "reading/schema.hpp"
#include "study/function_reader.hpp"
#include "study/study_reader.hpp"

namespace portweigh::study {
namespace {

using Json = nlohmann::ordered_json;

const std::filesystem::path catalog = PORTWEIGH_CATALOG_DIR;

Json study_schema() {
  return reading::schema_of("study.schema.json", "Study", study_infos());
}

// Keys of the table and of its tables, without those inside ranges and block settings.
void require_declared(const toml::table& table, const Json& schema, const std::string& path) {
  for (auto&& [key, value] : table) {
    const std::string name = path + "." + std::string(key.str());
    INFO(name);
    REQUIRE(schema["properties"].contains(std::string(key.str())));
    const auto& declared = schema["properties"][std::string(key.str())];
    const auto* inner = value.as_table();
    if (inner != nullptr && declared.contains("properties")) {
      if (key.str() != "settings") require_declared(*inner, declared, name);
    }
    if (const auto* array = value.as_array()) {
      for (auto&& element : *array) {
        if (const auto* row = element.as_table()) require_declared(*row, declared["items"], name);
      }
    }
  }
}

TEST_CASE("the schemas of functions and studies are those of the readers") {
  INFO("out of date; run study_tests \"[write-schemas]\"");
  CHECK(reading::read_text_file(catalog / "schema" / "function.schema.json") ==
        reading::to_text(function_schema()));
  CHECK(reading::read_text_file(catalog / "schema" / "study.schema.json") ==
        reading::to_text(study_schema()));
}

TEST_CASE("every key of the functions and studies of the project is declared") {
  for (const auto& entry : std::filesystem::directory_iterator(catalog / "functions")) {
    require_declared(reading::Document::load(entry.path()).table(), function_schema(),
                     entry.path().stem().string());
  }
  for (const auto& entry : std::filesystem::directory_iterator(PORTWEIGH_STUDIES_DIR)) {
    if (entry.path().extension() != ".toml") continue;
    require_declared(reading::Document::load(entry.path()).table(), study_schema(),
                     entry.path().stem().string());
  }
}

TEST_CASE("the settings of a block follow from its kind") {
  const auto block = function_schema()["properties"]["block"]["items"];
  for (const auto& kind : blocks::kinds()) {
    const auto rule = std::find_if(block["allOf"].begin(), block["allOf"].end(), [&](const Json& entry) {
      return entry["if"]["properties"]["kind"]["const"] == kind.name;
    });
    REQUIRE(rule != block["allOf"].end());
    const auto& settings = (*rule)["then"]["properties"]["settings"];
    CHECK(settings["additionalProperties"] == false);
    CHECK(settings["properties"].size() == kind.settings.size() + 1);  // and "source"
    for (const auto& setting : kind.settings) {
      INFO(kind.name << " " << setting.name);
      CHECK(settings["properties"].contains(setting.name));
    }
  }
}

TEST_CASE("write the schemas of functions and studies", "[.][write-schemas]") {
  reading::write_file_atomically(catalog / "schema" / "function.schema.json",
                                 reading::to_text(function_schema()));
  reading::write_file_atomically(catalog / "schema" / "study.schema.json", reading::to_text(study_schema()));
}

}  // namespace
}  // namespace portweigh::study

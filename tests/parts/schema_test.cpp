// catalog/schema/*.schema.json say exactly what the readers accept.
//
// The files are generated from the fields of the readers; after a field was added, run
//     parts_tests "[write-schemas]"
// to write them anew. Beside being up to date, every key of every file of the catalog must be declared.
#include <toml++/toml.h>
#include <catch2/catch.hpp>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "parts/core_reader.hpp"
#include "parts/effort.hpp"
#include "parts/external_part_reader.hpp"
#include "parts/fixed_function_reader.hpp"
#include "parts/microcontroller_reader.hpp"
#include "parts/programmable_logic_reader.hpp"
#include "parts/reference_reader.hpp"
#include "reading/atomic_file.hpp"
#include "reading/document.hpp"
#include "reading/schema.hpp"

namespace portweigh::parts {
namespace {

using Json = nlohmann::ordered_json;

const std::filesystem::path schema_folder = std::filesystem::path(PORTWEIGH_CATALOG_DIR) / "schema";

std::map<std::string, Json> schemas() {
  const auto make = [](const std::string& name, const std::string& title,
                       const std::vector<reading::FieldInfo>& infos) {
    const std::string file = name + ".schema.json";
    return std::pair{file, reading::schema_of(file, title, infos)};
  };
  return {make("programmable-logic", "Programmable-logic device", programmable_logic_infos()),
          make("microcontroller", "Microcontroller", microcontroller_infos()),
          make("fixed-function", "Fixed-function controller", fixed_function_infos()),
          make("external-part", "Part beside the main one", reading::infos_of(external_part_fields())),
          make("core", "Core class", reading::infos_of(core_fields())),
          make("effort", "Rates of engineering effort", effort_infos()),
          make("spreads", "Spreads of estimates", spreads_infos()),
          make("currencies", "Rates of conversion", currencies_infos())};
}

// The schema of one key of a table, following the alternatives; null where it isn't declared.
const Json* schema_of_key(const Json& schema, const std::string& key) {
  if (schema.contains("properties") && schema["properties"].contains(key)) return &schema["properties"][key];
  if (schema.contains("additionalProperties") && schema["additionalProperties"].is_object()) {
    return &schema["additionalProperties"];
  }
  if (schema.contains("anyOf")) {
    for (const auto& alternative : schema["anyOf"]) {
      if (const auto* found = schema_of_key(alternative, key)) return found;
    }
  }
  return nullptr;
}

void require_declared(const toml::table& table, const Json& schema, const std::string& path) {
  for (auto&& [key, value] : table) {
    const std::string name = path + "." + std::string(key.str());
    INFO(name);
    const auto* declared = schema_of_key(schema, std::string(key.str()));
    REQUIRE(declared != nullptr);
    if (const auto* inner = value.as_table()) require_declared(*inner, *declared, name);
    if (const auto* array = value.as_array()) {
      for (auto&& element : *array) {
        if (const auto* inner = element.as_table()) require_declared(*inner, (*declared)["items"], name);
      }
    }
  }
}

void require_folder_declared(const std::string& folder, const Json& schema) {
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(PORTWEIGH_CATALOG_DIR) / folder)) {
    if (entry.path().extension() != ".toml") continue;
    require_declared(reading::Document::load(entry.path()).table(), schema, entry.path().stem().string());
  }
}

TEST_CASE("the schemas of the catalog are those of the readers") {
  for (const auto& [file, schema] : schemas()) {
    INFO(file << " is out of date; run parts_tests \"[write-schemas]\"");
    CHECK(reading::read_text_file(schema_folder / file) == reading::to_text(schema));
  }
}

TEST_CASE("every key of the default catalog is declared in its schema") {
  const auto all = schemas();
  require_folder_declared("programmable-logic", all.at("programmable-logic.schema.json"));
  require_folder_declared("microcontrollers", all.at("microcontroller.schema.json"));
  require_folder_declared("fixed-function", all.at("fixed-function.schema.json"));
  require_folder_declared("external", all.at("external-part.schema.json"));
  require_folder_declared("cores", all.at("core.schema.json"));
  require_declared(
      reading::Document::load(std::filesystem::path(PORTWEIGH_CATALOG_DIR) / "effort.toml").table(),
      all.at("effort.schema.json"), "effort");
}

TEST_CASE("a schema refuses undeclared keys and lists the required ones") {
  const auto schema = schemas().at("fixed-function.schema.json");
  CHECK(schema["$schema"] == "https://json-schema.org/draft/2020-12/schema");
  CHECK(schema["additionalProperties"] == false);
  std::set<std::string> required = schema["required"];
  CHECK(required.contains("features"));
  CHECK(required.contains("price"));
  CHECK_FALSE(required.contains("source"));
  CHECK(schema["properties"]["upgrade"]["enum"] == Json::array({"none", "factory", "field"}));
  CHECK(schema["properties"]["package"]["items"]["properties"].contains("pitch"));
}

TEST_CASE("write the schemas of the catalog", "[.][write-schemas]") {
  for (const auto& [file, schema] : schemas()) {
    reading::write_file_atomically(schema_folder / file, reading::to_text(schema));
  }
}

}  // namespace
}  // namespace portweigh::parts

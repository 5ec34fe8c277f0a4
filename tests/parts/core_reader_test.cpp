// Core classes: every field of the declared list is read from its place, and mistakes are told there.
#include "parts/core_reader.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

std::string core_text() {
  std::ifstream file(std::string(PORTWEIGH_CATALOG_DIR) + "/cores/32-bit-two-stage.toml");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Lines mistakes_of(const std::string& text) {
  return texts::mistakes(text,
                         [](reading::TableReader& reader) { (void)read_core(reader, "32-bit-two-stage"); });
}

TEST_CASE("a core class reads back what its file says") {
  auto document = reading::Document::parse(core_text(), "part.toml");
  auto root = document.root();
  const auto core = read_core(root, "32-bit-two-stage");
  document.throw_if_errors();
  CHECK(core.word_bits == 32);
  CHECK(core.shifter == firmware::Shifter::barrel);
  // Interface contract: 1-cycle logic, 2-cycle load and store, 2-cycle taken branch.
  CHECK(core[firmware::Operation::logic].cycles == 1);
  CHECK(core[firmware::Operation::load_indirect].cycles == 2);
  CHECK(core[firmware::Operation::branch_taken].cycles == 2);
}

TEST_CASE("every table of the catalog's core classes has a source, its own or the file's") {
  for (const auto& entry : std::filesystem::directory_iterator(PORTWEIGH_CATALOG_DIR "/cores")) {
    INFO(entry.path());
    auto document = reading::Document::load(entry.path());
    auto root = document.root();
    const auto core = read_core(root, entry.path().stem().string());
    document.throw_if_errors();
    for (const auto& field : firmware::core_fields()) {
      const std::string table = field.key.substr(0, field.key.rfind('.'));
      INFO(table);
      REQUIRE(core.sources.contains(table));
      CHECK_FALSE(core.sources.at(table).empty());
    }
  }
}

TEST_CASE("a table's own source goes before the file's") {
  auto document = reading::Document::parse(core_text(), "part.toml");
  auto root = document.root();
  const auto core = read_core(root, "32-bit-two-stage");
  CHECK(core.sources.at("operation.logic") == core.sources.at(""));
  CHECK(core.sources.at("interrupt") != core.sources.at(""));
}

TEST_CASE("the class is named like its file") {
  CHECK(mistakes_of(texts::changed(core_text(), "name = \"32-bit-two-stage\"", "name = \"32-bit\"")) ==
        Lines{"part.toml:1:8: name \"32-bit\" differs from the file's name, expected \"32-bit-two-stage\""});
}

TEST_CASE("every declared number is asked for") {
  const auto mistakes = mistakes_of("name = \"32-bit-two-stage\"\ntext = \"empty\"\n");
  std::set<std::string> tables;
  for (const auto& field : firmware::core_fields()) tables.insert(field.key.substr(0, field.key.find('.')));
  for (const auto& table : tables) {
    INFO(table);
    CHECK(std::count(mistakes.begin(), mistakes.end(),
                     "part.toml:1:1: missing key \"" + table + "\", expected a table") == 1);
  }
}

}  // namespace
}  // namespace portweigh::parts

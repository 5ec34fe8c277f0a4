// The invented parts are what the written rule gives: catalog/invent_parts.py writes the same files again.
#include <fmt/core.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

namespace {

namespace fs = std::filesystem;

std::map<std::string, std::string> files_of(const fs::path& folder) {
  std::map<std::string, std::string> texts;
  for (const auto& entry : fs::directory_iterator(folder)) {
    std::ostringstream text;
    text << std::ifstream(entry.path(), std::ios::binary).rdbuf();
    texts[entry.path().filename().string()] = text.str();
  }
  return texts;
}

TEST_CASE("the rule of the catalog gives its invented parts byte for byte") {
  const fs::path folder = fs::temp_directory_path() / fmt::format("invented-parts-{}", getpid());
  fs::remove_all(folder);
  const std::string command =
      fmt::format("python3 '{}/invent_parts.py' '{}'", PORTWEIGH_CATALOG_DIR, folder.string());
  INFO(command);
  REQUIRE(std::system(command.c_str()) == 0);
  for (const char* kind : {"programmable-logic", "microcontrollers", "fixed-function"}) {
    const auto written = files_of(folder / kind);
    const auto kept = files_of(fs::path(PORTWEIGH_CATALOG_DIR) / kind);
    CHECK_FALSE(written.empty());
    for (const auto& [name, text] : kept) {
      INFO(kind << '/' << name);
      REQUIRE(written.contains(name));
      CHECK(written.at(name) == text);
    }
    CHECK(written.size() == kept.size());
  }
  fs::remove_all(folder);
}

}  // namespace

// Includes go down the floors only: a file includes from its own folder or from lower floors.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>

namespace {

const std::map<std::string, int> floors = {
    {"figures", 0}, {"logic", 0},   {"firmware", 0}, {"reading", 1},     {"blocks", 2}, {"study", 3},
    {"parts", 3},   {"options", 4}, {"decision", 5}, {"exploration", 6}, {"report", 7}, {"cli", 8}};

}  // namespace

TEST_CASE("Includes go down the floors only") {
  const std::filesystem::path root = std::filesystem::path(PORTWEIGH_SOURCE_DIR) / "estimator";
  const std::regex include_line("^#include \"([a-z]+)/.*");
  std::size_t checked = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
    if (!entry.is_regular_file()) continue;
    const std::string folder = std::filesystem::relative(entry.path(), root).begin()->string();
    REQUIRE(floors.contains(folder));
    std::ifstream file(entry.path());
    for (std::string line; std::getline(file, line);) {
      std::smatch match;
      if (!std::regex_match(line, match, include_line)) continue;
      const std::string other = match[1];
      INFO(entry.path() << ": " << line);
      REQUIRE(floors.contains(other));
      CHECK((other == folder || floors.at(other) < floors.at(folder)));
      ++checked;
    }
  }
  CHECK(checked > 100);
}

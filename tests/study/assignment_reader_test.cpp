#include "study/assignment_reader.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "study/study.hpp"

using namespace portweigh;

namespace {

// The demo study with more lines before its first table.
std::filesystem::path demo_with(const std::string& name, const std::string& lines) {
  std::ifstream demo(std::filesystem::path(PORTWEIGH_STUDIES_DIR) / "flow-meter.toml");
  std::string text((std::istreambuf_iterator<char>(demo)), std::istreambuf_iterator<char>());
  text.insert(text.find("\n[battery]"), "\n" + lines);
  const auto file = std::filesystem::temp_directory_path() / ("portweigh-" + name + ".toml");
  std::ofstream(file) << text;
  return file;
}

study::Study read(const std::string& name, const std::string& lines) {
  return study::read_study(demo_with(name, lines), PORTWEIGH_CATALOG_DIR);
}

std::string mistakes_of(const std::string& name, const std::string& lines) {
  try {
    (void)read(name, lines);
  } catch (const reading::InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("Pins, bans and wanted options of a study are read with their places") {
  const study::Study study = read("assignment", R"(while_line_busy = "asleep"
[assignment]
only = ["pl-flash-d+host"]
pin = [{ block = "policy", engine = "host" }]
forbid = [{ block = "line-decode", engine = "microcontroller" }]
)");
  CHECK(study.while_line_busy == study::WhileLineBusy::asleep);
  CHECK(study.assignment.only_options == std::vector<std::string>{"pl-flash-d+host"});
  REQUIRE(study.assignment.pinned.size() == 1);
  CHECK(study.assignment.pinned.front().block == "policy");
  CHECK(study.assignment.pinned.front().engine == "host");
  CHECK(study.assignment.pinned.front().source.line > 0);
  REQUIRE(study.assignment.forbidden.size() == 1);
  CHECK(study.assignment.forbidden.front().engine == "microcontroller");
}

TEST_CASE("Without the table nothing is pinned and processors stay awake while bits are on the line") {
  const study::Study study = read("plain", "");
  CHECK(study.assignment.pinned.empty());
  CHECK(study.while_line_busy == study::WhileLineBusy::awake);
}

TEST_CASE("Unknown blocks and engines are told together with the nearest names") {
  const std::string mistakes = mistakes_of("mistakes", R"([assignment]
pin = [{ block = "polcy", engine = "host" }, { block = "timers", engine = "fabrik" }]
)");
  CHECK(mistakes.find("polcy") != std::string::npos);
  CHECK(mistakes.find("\"policy\"") != std::string::npos);
  CHECK(mistakes.find("fabrik") != std::string::npos);
  CHECK(mistakes.find("\"fabric\"") != std::string::npos);
}

TEST_CASE("A block can't be pinned to two engines") {
  const std::string mistakes = mistakes_of("twice", R"([assignment]
pin = [{ block = "policy", engine = "host" }, { block = "policy", engine = "fabric" }]
)");
  CHECK(mistakes.find("pinned twice") != std::string::npos);
}

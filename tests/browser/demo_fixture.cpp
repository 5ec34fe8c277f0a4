#include "demo_fixture.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "cli/command_line.hpp"

namespace portweigh::tests {
namespace {

namespace fs = std::filesystem;

struct Folder {
  Folder() : path(fs::temp_directory_path() / fmt::format("portweigh-browser-{}", getpid())) {
    fs::create_directories(path);
  }
  ~Folder() { fs::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  fs::path path;
};

fs::path write_report(const std::string& name) {
  const fs::path path = browser_folder() / name;
  run_program({"report", demo_study, "--output", path.string()});
  return path;
}

}  // namespace

std::string run_program(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), "portweigh");
  std::vector<const char*> pointers;
  for (const std::string& argument : arguments) pointers.push_back(argument.c_str());
  std::ostringstream out;
  std::ostringstream errors;
  const int code = cli::run(static_cast<int>(pointers.size()), pointers.data(), out, errors);
  INFO(errors.str());
  REQUIRE(code == 0);
  return out.str();
}

const fs::path& browser_folder() {
  static const Folder folder;
  return folder.path;
}

const fs::path& demo_page() {
  static const fs::path page = write_report("demo.html");
  return page;
}

const nlohmann::json& demo_run() {
  static const nlohmann::json run = [] {
    std::ifstream file(write_report("demo.json"));
    return nlohmann::json::parse(file);
  }();
  return run;
}

}  // namespace portweigh::tests

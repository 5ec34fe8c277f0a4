// What the main verbs print, as a whole: every word stands as it stood, only numbers may move.
//
// README.md's demo output is compared with the program, and the files of printed/ with the verbs they are
// named after. In both, numbers are replaced by a mark, and spaces and line ends don't count, since columns
// follow the width of their numbers. After a change that is meant, run
//     project_tests "[write-printed]"
// to write printed/ anew, and read the difference.
#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <sstream>
#include <vector>

#include "program_fixture.hpp"
#include "reading/atomic_file.hpp"
#include "reading/document.hpp"

using portweigh::reading::read_text_file;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;

namespace {

const std::filesystem::path printed_folder = PORTWEIGH_TESTS_DIR "/project/printed";

// Numbers and the bars that show them become '#'; alignment goes.
std::string without_numbers(const std::string& text) {
  static const std::regex bar("[=.]{8}");
  static const std::regex number("[-+]?[0-9]+([.][0-9]+)?(e[-+][0-9]+)?");
  static const std::regex spaces(" +");
  const std::string marked = std::regex_replace(std::regex_replace(text, bar, "#"), number, "#");
  return std::regex_replace(marked, spaces, " ");
}

// The words of a text, numbers marked, one to a line so that a difference is found.
std::string words_of(const std::string& text) {
  std::istringstream stream(without_numbers(text));
  std::string words;
  for (std::string word; stream >> word;) words += word + "\n";
  return words;
}

// The indented block of README.md that follows the line `before`, up to the next line that isn't indented.
std::string readme_block(const std::string& before) {
  std::istringstream lines(read_text_file(PORTWEIGH_SOURCE_DIR "/README.md"));
  std::string line;
  while (std::getline(lines, line) && line != before) {
  }
  std::string block;
  while (std::getline(lines, line) && (line.empty() || line.starts_with("    "))) block += line + "\n";
  return block;
}

struct Printed {
  std::string name;
  std::vector<std::string> arguments;
};

std::vector<Printed> printed() {
  return {
      {"explain", {"explain", demo, "--option", "ff-sink", "--figure", "active_power"}},
      {"sweep",
       {"sweep", demo, "--over", "duty_cycle=0.001:1:4:log", "--only", "ff-sink", "--only", "pl-flash-d"}},
      {"crossover",
       {"crossover", demo, "--over", "duty_cycle=0.0001:1:2:log", "--only", "mcu-32b-turbo", "--only",
        "pl-flash-d", "--figure", "average_power"}},
      {"sensitivity", {"sensitivity", demo, "--samples", "64"}},
      {"block", {"block", "crc"}},
      {"break-even", {"break-even", demo}},
      {"calibrate", {"calibrate", PORTWEIGH_STUDIES_DIR "/measured/first-boards.toml"}},
      {"family", {"family", PORTWEIGH_STUDIES_DIR "/families/shop-instruments.toml"}},
      {"list-parts", {"list", "parts"}}};
}

}  // namespace

TEST_CASE("README shows the demo's output: labels to the letter, rejections shortened") {
  const std::string block = words_of(readme_block("The first ends with (rejections shortened here):"));
  const std::string shortened = "\n...\n";
  const auto cut = block.find(shortened);
  REQUIRE(cut != std::string::npos);
  const std::string before = block.substr(0, cut);
  const std::string after = block.substr(cut + shortened.size());
  const Outcome ranked = run_program({"rank", demo});
  REQUIRE(ranked.code == 0);
  // studies/demo.sh adds a line of its own.
  const std::string script = read_text_file(PORTWEIGH_STUDIES_DIR "/demo.sh");
  const auto echo = script.rfind("echo \"");
  REQUIRE(echo != std::string::npos);
  const auto start = echo + 6;
  const std::string output = words_of(ranked.out + script.substr(start, script.rfind('"') - start));
  CHECK(before == output.substr(0, before.size()));
  REQUIRE(output.size() > before.size() + after.size());
  CHECK(after == output.substr(output.size() - after.size()));
}

TEST_CASE("The verbs print what they printed, apart from numbers", "[long]") {
  for (const Printed& one : printed()) {
    CAPTURE(one.name);
    const Outcome outcome = run_program(one.arguments);
    CHECK(outcome.code == 0);
    CHECK(words_of(outcome.out) == words_of(read_text_file(printed_folder / (one.name + ".txt"))));
  }
}

TEST_CASE("write what the verbs print", "[.][write-printed]") {
  for (const Printed& one : printed()) {
    portweigh::reading::write_file_atomically(printed_folder / (one.name + ".txt"),
                                              without_numbers(run_program(one.arguments).out));
  }
}

// What the program says where its input, its arguments or its output fail: always a message and an exit code.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command_line.hpp"
#include "program_fixture.hpp"

using Catch::Contains;
using nlohmann::json;
using portweigh::tests::demo;
using portweigh::tests::Outcome;
using portweigh::tests::run_program;
namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

// A folder of its own, gone at the end of the test.
class Folder {
 public:
  explicit Folder(const std::string& name) : path_(fs::temp_directory_path() / ("portweigh-" + name)) {
    fs::create_directories(path_ / "functions");
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return (path_ / name).string();
  }
  std::string path() const { return path_.string(); }

 private:
  fs::path path_;
};

// The demo's study, whose function has a netlist of the user besides.
struct OwnLogic {
  std::string function;
  std::string study;
};

OwnLogic write_own_logic(const Folder& folder, const std::string& netlist) {
  const std::string named = "function = \"sink\"";
  std::string study = text_of(demo);
  const auto position = study.find(named);
  REQUIRE(position != std::string::npos);
  study.replace(position, named.size(), "function = \"functions/own.toml\"");
  const std::string function = text_of(PORTWEIGH_STUDIES_DIR "/../catalog/functions/sink.toml") +
                               "\n[[block]]\nname = \"own\"\nkind = \"netlist\"\nlayer = \"physical\"\n"
                               "feature = \"own-logic\"\nrevision_group = \"pins\"\n"
                               "settings = { file = \"" +
                               netlist + "\" }\nsource = \"invented\"\n";
  return {folder.write("functions/own.toml", function), folder.write("study.toml", study)};
}

// The demo's study with few parts to choose from, so that its options are found at once.
std::string write_small_study(const Folder& folder) {
  return folder.write("small.toml",
                      "only_parts = [\"ff-sink\", \"ff-line\", \"pl-flash-d\"]\n" + text_of(demo));
}

const std::string broken_blif = ".model m\n.inputs a\n.outputs q\n.names a q\n2 1\n.end\n";

}  // namespace

TEST_CASE("A malformed netlist is bad input for every verb that reads it") {
  const Folder folder("broken-netlist");
  const std::string netlist = folder.write("broken.blif", broken_blif);
  const OwnLogic own = write_own_logic(folder, netlist);
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"block", "netlist", "--set", "file=" + netlist},
        {"check", own.function},
        {"check", own.study},
        {"rank", own.study, "--samples", "16"},
        {"sweep", own.study, "--over", "duty_cycle=0.1:1"},
        {"explain", own.study, "--option", "ff-sink", "--figure", "unit_cost"}}) {
    CAPTURE(words);
    const Outcome outcome = run_program(words);
    CHECK(outcome.code == 2);
    CHECK(outcome.out.empty());
    CHECK_THAT(outcome.errors, Contains(netlist + ":5:1: "));
  }
}

TEST_CASE("A missing netlist and a folder in its place are bad input") {
  const Folder folder("no-netlist");
  const Outcome missing = run_program({"block", "netlist", "--set", "file=" + folder.path() + "/none.aig"});
  CHECK(missing.code == 2);
  CHECK_THAT(missing.errors, Contains("none.aig: no such file"));
  const Outcome is_folder = run_program({"block", "netlist", "--set", "file=" + folder.path()});
  CHECK(is_folder.code == 2);
  CHECK_THAT(is_folder.errors, Contains("is a folder"));
  const OwnLogic own = write_own_logic(folder, "none.aig");
  CHECK(run_program({"check", own.study}).code == 2);
  CHECK(run_program({"rank", own.study}).code == 2);
}

TEST_CASE("A netlist without a file says that it is a sample") {
  const json sample = json::parse(run_program({"block", "netlist", "--json"}).out);
  CHECK_THAT(sample["note"].get<std::string>(), Contains("no file given"));
  CHECK_THAT(run_program({"block", "netlist"}).out, Contains("Note: no file given"));
  const Folder folder("sample-netlist");
  const std::string file =
      folder.write("and.blif", ".model m\n.inputs a b\n.outputs q\n.names a b q\n11 1\n.end\n");
  const json own = json::parse(run_program({"block", "netlist", "--set", "file=" + file, "--json"}).out);
  CHECK_FALSE(own.contains("note"));
  CHECK(own["logic"]["luts"] == 1);
}

TEST_CASE("Output that can't be written is an error of its own") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"portweigh", "list", "blocks"}, {"portweigh", "--help"}}) {
    std::vector<const char*> arguments;
    for (const std::string& word : words) arguments.push_back(word.c_str());
    std::ofstream full("/dev/full");
    std::ostringstream errors;
    CHECK(portweigh::cli::run(static_cast<int>(arguments.size()), arguments.data(), full, errors) == 3);
    CHECK(errors.str() == "standard output: cannot write\n");
  }
}

TEST_CASE("Negative whole numbers are refused, not wrapped around") {
  for (const std::string verb : {"rank", "sensitivity"}) {
    const Outcome outcome = run_program({verb, demo, "--seed", "-1"});
    CHECK(outcome.code == 2);
    CHECK_THAT(outcome.errors, Contains("--seed") && Contains("-1"));
  }
  CHECK(run_program({"block", "crc", "--smallest-ram", "-1"}).code == 2);
}

TEST_CASE("Options of all verbs may stand before the verb, and after it they win") {
  const std::string catalog = PORTWEIGH_STUDIES_DIR "/../catalog";
  const Outcome before = run_program({"--json", "--threads", "1", "--catalog", catalog, "list", "cores"});
  CHECK(before.code == 0);
  CHECK(before.out == run_program({"list", "cores", "--json"}).out);
  CHECK(run_program({"--catalog", "/nowhere", "list", "cores"}).code == 2);
  CHECK(run_program({"--catalog", "/nowhere", "list", "cores", "--catalog", catalog}).code == 0);
  CHECK(run_program({"--catalog", catalog, "list", "cores", "--catalog", "/nowhere"}).code == 2);
}

TEST_CASE("An unknown option names the three nearest and where all stand") {
  const Folder folder("unknown-option");
  const std::string study = write_small_study(folder);
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"explain", study, "--figure", "unit_cost", "--option", "ff-sinc"},
        {"sweep", study, "--over", "duty_cycle=0.1:1", "--only", "ff-sinc"}}) {
    const Outcome outcome = run_program(words);
    CHECK(outcome.code == 2);
    CHECK_THAT(outcome.errors, Contains("unknown option \"ff-sinc\", nearest: ff-sink, ") &&
                                   Contains("; see: portweigh rank STUDY --all"));
    CHECK(std::count(outcome.errors.begin(), outcome.errors.end(), ',') == 3);
  }
}

TEST_CASE("Ranges that no product can have are refused with what is possible") {
  const Folder folder("ranges");
  const std::string study = write_small_study(folder);
  for (const std::string verb : {"sweep", "crossover"}) {
    const Outcome outcome = run_program({verb, study, "--over", "duty_cycle=-1:1"});
    CHECK(outcome.code == 2);
    CHECK_THAT(outcome.errors, Contains("duty_cycle: \"-1\"") && Contains("0 to 1"));
  }
  const Outcome twice =
      run_program({"sweep", study, "--over", "duty_cycle=0:1", "--over", "duty_cycle=0:0.5"});
  CHECK(twice.code == 2);
  CHECK_THAT(twice.errors, Contains("given twice"));
  const Outcome other = run_program({"sweep", study, "--over", "clock_rate=1MHz:2MHz", "--only", "ff-sink"});
  CHECK(other.code == 2);
  CHECK_THAT(other.errors, Contains("no option chosen with --only has the input \"clock_rate\""));
}

TEST_CASE("Measured firmware is printed as given") {
  const json block = json::parse(run_program({"block", "measured", "--set", "cycles=50", "--set",
                                              "code_bytes=10", "--set", "data_bytes=4", "--json"})
                                     .out);
  const json& firmware = block["firmware"];
  for (const char* end : {"low", "typical", "high"}) CHECK(firmware["cycles"][end] == 50);
  CHECK(firmware["code_bytes"] == 10);
  CHECK(firmware["ram_bytes"] == 4);
  CHECK_THAT(run_program({"block", "measured", "--set", "cycles=50"}).out, Contains("Firmware on"));
  CHECK_FALSE(
      json::parse(run_program({"block", "measured", "--set", "luts=9", "--json"}).out).contains("firmware"));
}

TEST_CASE("Measured results are checked as such, and a folder without a catalog is none") {
  const std::string measured = PORTWEIGH_STUDIES_DIR "/measured/first-boards.toml";
  CHECK(run_program({"check", measured}).code == 0);
  const Folder folder("measured");
  const std::string wrong =
      folder.write("wrong.toml", "name = \"x\"\n[[synthesis]]\nblock = \"crcc\"\nlut_inputs = 4\nluts = 9\n");
  const Outcome outcome = run_program({"check", wrong});
  CHECK(outcome.code == 2);
  CHECK_THAT(outcome.errors, Contains("wrong.toml:3:") && Contains("nearest: \"crc\""));
  const Outcome studies = run_program({"check", PORTWEIGH_STUDIES_DIR});
  CHECK(studies.code == 2);
  CHECK_THAT(studies.errors, Contains("is no catalog folder"));
}

TEST_CASE("The width of a core is a number") {
  const json listed = json::parse(run_program({"list", "cores", "--json"}).out);
  for (const json& core : listed["cores"]) CHECK(core["bits"].is_number_integer());
}

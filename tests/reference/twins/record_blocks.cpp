// Writes the C twins of block routines, the events of the blocks' own runs, and what the model says of them
// (model.csv): record_blocks LIST FOLDER. A line of LIST: name|kind|method|settings|events of the run to
// record|events of the block in each of them.
//
// The blocks run their routines themselves, so the recorder is put around Machine::run by the linker
// (--wrap; see record_blocks.sh): what an event starts from and leaves behind is read through the machine.
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <iostream>
#include <map>
#include <span>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "blocks/registry.hpp"
#include "c_twin.hpp"
#include "core_fixture.hpp"
#include "firmware/cost.hpp"

using namespace portweigh;
using Arguments = std::span<const std::uint32_t>;
using ArgumentList = std::initializer_list<std::uint32_t>;

namespace {

struct Record {
  std::size_t events = 0;
  std::string text;
};

// By program: a run may drive two routines against each other.
struct Recorder {
  std::size_t most = 0;
  std::map<const firmware::Program*, Record> records;
};

Recorder& recorder() {
  static Recorder only;
  return only;
}

template <class Run>
std::uint32_t record(firmware::Machine& machine, Arguments arguments, const Run& run) {
  Record& into = recorder().records[&machine.program()];
  if (into.events >= recorder().most) return run();
  ++into.events;
  into.text += "event";
  for (const auto argument : arguments) into.text += fmt::format(" {}", argument);
  into.text += "\n" + firmware::state_lines(machine, "poke");
  const std::uint32_t result = run();
  into.text += firmware::input_lines(machine);
  if (machine.program().functions[0].result) into.text += fmt::format("result {}\n", result);
  into.text += firmware::state_lines(machine, "expect");
  return result;
}

std::vector<std::string> split(const std::string& line, char at) {
  std::vector<std::string> parts;
  std::stringstream text(line);
  for (std::string part; std::getline(text, part, at);) parts.push_back(part);
  return parts;
}

void write_costs(const std::string& name, const blocks::FirmwareRun& run, std::ostream& table) {
  for (const char* const core :
       {"8-bit-two-stage", "8-bit-accumulator", "16-bit-register", "32-bit-two-stage", "32-bit-sequential"}) {
    using firmware::Goal;
    for (const auto& [goal, goal_name] : {std::pair(Goal::middle, "middle"), std::pair(Goal::size, "size"),
                                          std::pair(Goal::speed, "speed")}) {
      const auto built = firmware::built_for(firmware::read_core(core), goal);
      const auto cost = firmware::cost(run.routine, built, run.counts);
      table << fmt::format(
          "{},{},{},{:.2f},{:.2f},{:.2f},{:.0f},{:.0f},{:.0f}\n", name, core, goal_name, cost.cycles.low,
          cost.cycles.typical, cost.cycles.high, cost.code_bytes.low - cost.helper_bytes,
          cost.code_bytes.typical - cost.helper_bytes, cost.code_bytes.high - cost.helper_bytes);
    }
  }
}

void write_twin(const std::vector<std::string>& row, const std::filesystem::path& folder,
                std::ostream& table) {
  const blocks::Kind& kind = blocks::find_kind(row.at(1));
  auto settings = blocks::Settings::standard(kind.settings);
  for (const std::string& setting : split(row.at(3), ' ')) {
    const auto equals = setting.find('=');
    settings.set(setting.substr(0, equals), setting.substr(equals + 1));
  }
  recorder() = {.most = std::stoul(row.at(4)), .records = {}};
  const blocks::FirmwareRun run = kind.run(settings, row.at(2));
  const std::string base = folder / row.at(0);
  std::ofstream(base + ".c") << firmware::c_source(run.routine);
  std::ofstream(base + ".symbols") << firmware::symbol_list(run.routine);
  std::ofstream(base + ".events") << recorder().records[&run.routine.program()].text;
  write_costs(row.at(0), run, table);
}

}  // namespace

#define RUN_LIST _ZN9portweigh8firmware7Machine3runESt16initializer_listIjE
#define RUN_SPAN _ZN9portweigh8firmware7Machine3runESt4spanIKjLm18446744073709551615EE
#define JOINED(a, b) a##b
#define WRAPPED(name) JOINED(__wrap_, name)
#define ORIGINAL(name) JOINED(__real_, name)

extern "C" {
std::uint32_t ORIGINAL(RUN_LIST)(firmware::Machine*, ArgumentList);
std::uint32_t ORIGINAL(RUN_SPAN)(firmware::Machine*, Arguments);
std::uint32_t WRAPPED(RUN_LIST)(firmware::Machine* machine, ArgumentList list) {
  return record(*machine, Arguments(list.begin(), list.size()),
                [&] { return ORIGINAL(RUN_LIST)(machine, list); });
}
std::uint32_t WRAPPED(RUN_SPAN)(firmware::Machine* machine, Arguments arguments) {
  return record(*machine, arguments, [&] { return ORIGINAL(RUN_SPAN)(machine, arguments); });
}
}

int main(int count, char** words) {
  if (count != 3) {
    std::cerr << "usage: record_blocks LIST FOLDER\n";
    return 2;
  }
  std::ifstream list(words[1]);
  const std::filesystem::path folder = words[2];
  std::filesystem::create_directories(folder);
  std::ofstream table(folder / "model.csv");
  table << "name,core,goal,low,typical,high,low_bytes,typical_bytes,high_bytes\n";
  for (std::string line; std::getline(list, line);) {
    if (!line.empty() && line[0] != '#') write_twin(split(line, '|'), folder, table);
  }
  return 0;
}

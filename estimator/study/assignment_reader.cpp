#include "study/assignment_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <set>

#include "reading/suggest.hpp"

namespace portweigh::study {
namespace {

using namespace reading;

const Fields<Placement>& placement_fields() {
  std::vector<std::pair<std::string, std::string>> engines;
  for (const char* name : engine_names) engines.emplace_back(name, name);
  static const Fields<Placement> fields = {
      text("block", &Placement::block, "name of a block of the function", Pattern::identifier),
      choice("engine", &Placement::engine, std::move(engines), "what the block runs on"),
      remembered_source(&Placement::source)};
  return fields;
}

const Fields<Assignment>& assignment_fields() {
  static const Fields<Assignment> fields = {
      tables("pin", &Assignment::pinned, placement_fields(), "blocks that go to one engine and nowhere else",
             Presence::optional),
      tables("forbid", &Assignment::forbidden, placement_fields(), "engines that a block must not go to",
             Presence::optional),
      words("only", &Assignment::only_options, "ids of the options to list; absent: all", Presence::optional,
            Pattern::any)};
  return fields;
}

void check_blocks(TableReader& assignment, const char* key, const std::vector<Placement>& placements,
                  const std::vector<std::string>& blocks) {
  auto readers = assignment.optional_tables(key);
  for (std::size_t i = 0; i < std::min(readers.size(), placements.size()); ++i) {
    const std::string& name = placements[i].block;
    if (!name.empty() && std::find(blocks.begin(), blocks.end(), name) == blocks.end()) {
      readers[i].report("block", unknown_name_message("block", name, blocks));
    }
  }
}

}  // namespace

Field<Study> assignment_field() {
  auto read = [](TableReader& reader, Study& study) {
    if (auto inner = reader.optional_table("assignment")) {
      read_record(*inner, assignment_fields(), study.assignment);
    }
  };
  return {{"assignment", "which blocks may go where", Presence::optional, Multiplicity::one,
           TableShape{infos_of(assignment_fields())}},
          std::move(read)};
}

Field<Study> while_line_busy_field() {
  return choice("while_line_busy", &Study::while_line_busy,
                {{"awake", WhileLineBusy::awake}, {"asleep", WhileLineBusy::asleep}},
                "what the processor does between two events while bits are on the line", Presence::optional);
}

void check_assignment(TableReader& root, const Study& study) {
  auto assignment = root.optional_table("assignment");
  if (!assignment) return;
  std::vector<std::string> blocks;
  for (const auto& block : study.function.blocks) blocks.push_back(block.name);
  check_blocks(*assignment, "pin", study.assignment.pinned, blocks);
  check_blocks(*assignment, "forbid", study.assignment.forbidden, blocks);
  auto pins = assignment->optional_tables("pin");
  std::set<std::string> pinned;
  for (std::size_t i = 0; i < std::min(pins.size(), study.assignment.pinned.size()); ++i) {
    const std::string& name = study.assignment.pinned[i].block;
    if (name.empty() || pinned.insert(name).second) continue;
    pins[i].report("block", fmt::format("block \"{}\" is pinned twice, expected one engine for it", name));
  }
}

}  // namespace portweigh::study

// A state table as it is written: the keys of its file and their texts, names not yet looked up.
//
// One list of fields gives reader and JSON Schema (catalog/schema/state-machine.schema.json). Tested by
// tests/blocks/state_machine/state_table_file_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reading/field.hpp"

namespace portweigh::blocks {

// A table whose keys are names chosen by the writer, in the order of the file.
template <class Text>
struct NamedTexts {
  struct Item {
    std::string name;
    Text text;
  };
  std::optional<reading::TableReader> reader;  // none: the table is absent
  std::vector<Item> items;
};

struct TimerText {
  std::optional<reading::TableReader> reader;
  reading::SourcedRange duration;  // s
  std::string expires;             // empty: by default
  std::string meaning;
};

struct CounterText {
  std::optional<reading::TableReader> reader;
  unsigned limit = 1;
  std::string reached;  // empty: by default
  std::string meaning;
};

struct RowText {
  std::optional<reading::TableReader> reader;
  std::string event;
  std::vector<std::string> events;
  std::string when;
  std::string to;
  std::vector<std::string> commands;
};

struct RulesText {
  std::optional<reading::TableReader> reader;
  std::vector<RowText> rows;
  std::vector<std::string> ignored;
};

struct StateText : RulesText {
  std::string name;
  std::string meaning;
  std::vector<std::string> outputs;
  std::vector<std::string> timers;
  std::vector<std::string> enter;
  std::vector<std::string> leave;
};

struct StateTableFile {
  std::string name;
  std::string summary;
  std::string source;
  std::string initial;
  NamedTexts<std::string> events;
  NamedTexts<std::string> conditions;
  NamedTexts<std::string> actions;
  NamedTexts<std::string> outputs;
  NamedTexts<TimerText> timers;
  NamedTexts<CounterText> counters;
  NamedTexts<std::vector<std::string>> groups;
  std::optional<RulesText> anywhere;
  std::vector<StateText> states;
};

const reading::Fields<StateTableFile>& state_table_fields();

}  // namespace portweigh::blocks

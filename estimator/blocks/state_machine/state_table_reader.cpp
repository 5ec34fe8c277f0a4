// Reads the declarations of a state table: events, conditions, actions, outputs, timers, counters, groups.
//
// Names are kept in the order of the file, since an event that stands earlier is served earlier and message
// numbers follow the order. Events of timers come after all others, conditions of counters likewise.
// Tested by tests/blocks/state_machine/state_table_errors_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <tuple>

#include "blocks/state_machine/state_table.hpp"
#include "blocks/state_machine/state_table_draft.hpp"
#include "figures/units/dimension.hpp"
#include "reading/document.hpp"
#include "reading/suggest.hpp"
#include "reading/table_reader.hpp"

namespace portweigh::blocks {
namespace {

using reading::TableReader;

// Guards are evaluated on 32-bit words in firmware; numbers of events and actions fit a byte.
constexpr std::size_t most_conditions = 32;
constexpr std::size_t most_names = 200;
constexpr std::int64_t largest_limit = 255;
constexpr double longest_timer_s = 3600.0;

std::vector<std::string> keys_in_file_order(const TableReader& reader) {
  std::vector<std::string> keys = reader.keys();
  std::stable_sort(keys.begin(), keys.end(), [&](const std::string& a, const std::string& b) {
    const auto place_a = reader.source_of(a);
    const auto place_b = reader.source_of(b);
    return std::tie(place_a.line, place_a.column) < std::tie(place_b.line, place_b.column);
  });
  return keys;
}

bool is_identifier(const std::string& name) {
  const auto is_word_letter = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  };
  return !name.empty() && name.front() >= 'a' && name.front() <= 'z' && name.back() != '-' &&
         std::all_of(name.begin(), name.end(), is_word_letter);
}

void check_identifier(TableReader& reader, const std::string& key) {
  if (is_identifier(key)) return;
  reader.report(key, fmt::format("\"{}\" is not a name, expected lower-case words joined by hyphens, such as "
                                 "\"send-request\"",
                                 key));
}

void check_count(TableReader& reader, const std::string& key, std::size_t count, std::size_t most) {
  if (count > most) reader.report(key, fmt::format("{} {}, expected at most {}", count, key, most));
}

void read_names(TableReader& root, const std::string& section, std::size_t most,
                std::vector<NamedItem>& items, std::vector<Mention>& places) {
  auto reader = root.optional_table(section);
  if (!reader) return;
  for (const std::string& key : keys_in_file_order(*reader)) {
    check_identifier(*reader, key);
    items.push_back({key, reader->required_string(key)});
    places.push_back({*reader, key, std::nullopt});
  }
  check_count(root, section, items.size(), most);
}

// A name that a timer or counter brings into another list.
void add_derived(std::vector<NamedItem>& items, TableReader& reader, const std::string& key,
                 const std::string& name, std::string meaning) {
  const bool is_taken =
      std::any_of(items.begin(), items.end(), [&](const NamedItem& item) { return item.name == name; });
  if (is_taken) {
    auto message = fmt::format("\"{}\" is declared twice, expected a name of its own", name);
    reader.has(key) ? reader.report(key, std::move(message)) : reader.report(std::move(message));
  }
  items.push_back({name, std::move(meaning)});
}

void read_timers(TableReader& root, Draft& draft) {
  auto section = root.optional_table("timers");
  if (!section) return;
  for (const std::string& key : keys_in_file_order(*section)) {
    check_identifier(*section, key);
    TableReader reader = section->required_table(key);
    const auto duration = reader.required_range(
        "duration", reading::QuantityRule(figures::dimensions::time).between(0.0, longest_timer_s));
    const std::string event =
        reader.optional_string("expires", reading::Pattern::identifier).value_or(key + "-timeout");
    const std::string meaning =
        reader.optional_string("meaning").value_or(fmt::format("timer {} has expired", key));
    reader.finish();
    draft.table.timers.push_back({key, duration.range, draft.table.events.size(), true});
    draft.timer_places.push_back({*section, key, std::nullopt});
    add_derived(draft.table.events, reader, "expires", event, meaning);
  }
  check_count(root, "timers", draft.table.timers.size(), most_names - 1);
}

void read_counters(TableReader& root, Draft& draft) {
  auto section = root.optional_table("counters");
  if (!section) return;
  for (const std::string& key : keys_in_file_order(*section)) {
    check_identifier(*section, key);
    TableReader reader = section->required_table(key);
    const auto limit = static_cast<unsigned>(reader.required_integer("limit", 1, largest_limit));
    const std::string condition =
        reader.optional_string("reached", reading::Pattern::identifier).value_or(key + "-reached");
    const std::string meaning =
        reader.optional_string("meaning").value_or(fmt::format("counter {} is at its limit", key));
    reader.finish();
    draft.table.counters.push_back({key, limit, draft.table.conditions.size()});
    draft.counter_places.push_back({*section, key, std::nullopt});
    add_derived(draft.table.conditions, reader, "reached", condition, meaning);
  }
  check_count(root, "counters", draft.table.conditions.size(), most_conditions);
}

void read_groups(TableReader& root, Draft& draft) {
  auto section = root.optional_table("groups");
  if (!section) return;
  const std::vector<std::string> events = names_of(draft.table.events);
  for (const std::string& key : keys_in_file_order(*section)) {
    check_identifier(*section, key);
    if (key == others_name || std::find(events.begin(), events.end(), key) != events.end()) {
      section->report(key, fmt::format("\"{}\" is declared twice, expected a name of its own", key));
    }
    DraftGroup group{key, {}};
    const std::vector<std::string> members = section->required_strings(key);
    for (std::size_t i = 0; i < members.size(); ++i) {
      const auto found = std::find(events.begin(), events.end(), members[i]);
      if (found == events.end()) {
        section->report(key, i, reading::unknown_name_message("event", members[i], events));
      } else {
        group.events.push_back(static_cast<std::size_t>(std::distance(events.begin(), found)));
      }
    }
    draft.groups.push_back(std::move(group));
  }
}

void read_declarations(TableReader& root, Draft& draft) {
  StateTable& table = draft.table;
  table.name = root.required_string("name", reading::Pattern::identifier);
  table.summary = root.required_string("summary");
  table.source = root.required_string("source");
  read_names(root, "events", most_names, table.events, draft.event_places);
  read_timers(root, draft);
  read_names(root, "conditions", most_conditions, table.conditions, draft.condition_places);
  read_counters(root, draft);
  read_names(root, "actions", most_names, table.actions, draft.action_places);
  read_names(root, "outputs", most_conditions, table.outputs, draft.output_places);
  read_groups(root, draft);
  if (table.events.empty()) root.report("no events, expected a table [events] or [timers]");
}

StateTable read_document(reading::Document& document) {
  TableReader root = document.root();
  Draft draft;
  read_declarations(root, draft);
  read_rules(root, draft);
  root.finish();
  resolve_reactions(draft);
  check_machine(draft);
  document.throw_if_errors();
  for (DraftState& state : draft.states) draft.table.states.push_back(std::move(state.state));
  return std::move(draft.table);
}

}  // namespace

StateTable load_state_table(const std::filesystem::path& path) {
  auto document = reading::Document::load(path);
  return read_document(document);
}

StateTable parse_state_table(std::string text, std::string name) {
  auto document = reading::Document::parse(std::move(text), std::move(name));
  return read_document(document);
}

}  // namespace portweigh::blocks

// Takes up the declarations of a state table: events, conditions, actions, outputs, timers, counters, groups.
//
// Names are kept in the order of the file, since an event that stands earlier is served earlier and message
// numbers follow the order. Events of timers come after all others, conditions of counters likewise.
// Tested by tests/blocks/state_machine/state_table_errors_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>

#include "blocks/state_machine/state_table.hpp"
#include "blocks/state_machine/state_table_draft.hpp"
#include "reading/document.hpp"
#include "reading/suggest.hpp"

namespace portweigh::blocks {
namespace {

using reading::TableReader;

// Guards are evaluated on 32-bit words in firmware; numbers of events and actions fit a byte.
constexpr std::size_t most_conditions = 32;
constexpr std::size_t most_names = 200;

void check_count(TableReader& root, const std::string& key, std::size_t count, std::size_t most) {
  if (count > most) root.report(key, fmt::format("{} {}, expected at most {}", count, key, most));
}

template <class Text>
std::vector<Mention> places_of(const NamedTexts<Text>& texts) {
  std::vector<Mention> places;
  for (const auto& item : texts.items) places.push_back({*texts.reader, item.name, std::nullopt});
  return places;
}

class Declarations {
 public:
  Declarations(TableReader& root, const StateTableFile& file, Draft& draft)
      : root_(root), file_(file), draft_(draft) {}

  void read() {
    StateTable& table = draft_.table;
    table.name = file_.name;
    table.summary = file_.summary;
    table.source = file_.source;
    take("events", file_.events, most_names, table.events, draft_.event_places);
    take_timers();
    take("conditions", file_.conditions, most_conditions, table.conditions, draft_.condition_places);
    take_counters();
    take("actions", file_.actions, most_names, table.actions, draft_.action_places);
    take("outputs", file_.outputs, most_conditions, table.outputs, draft_.output_places);
    take_groups();
    if (table.events.empty()) root_.report("no events, expected a table [events] or [timers]");
  }

 private:
  void take(const std::string& section, const NamedTexts<std::string>& texts, std::size_t most,
            std::vector<NamedItem>& items, std::vector<Mention>& places) {
    for (const auto& item : texts.items) items.push_back({item.name, item.text});
    places = places_of(texts);
    check_count(root_, section, items.size(), most);
  }

  // A name that a timer or counter brings into another list, said by its owner or else made.
  static void add_derived(std::vector<NamedItem>& items, TableReader reader, const std::string& key,
                          const std::string& own, const std::string& made, std::string meaning) {
    const std::string& name = own.empty() ? made : own;
    const bool is_taken =
        std::any_of(items.begin(), items.end(), [&](const NamedItem& item) { return item.name == name; });
    if (is_taken) {
      reader.report(key, fmt::format("\"{}\" is declared twice, expected a name of its own", name));
    }
    items.push_back({name, std::move(meaning)});
  }

  void take_timers() {
    for (const auto& [name, text] : file_.timers.items) {
      draft_.table.timers.push_back({name, text.duration.range, draft_.table.events.size(), true});
      add_derived(draft_.table.events, *text.reader, "expires", text.expires, name + "-timeout",
                  text.meaning.empty() ? fmt::format("timer {} has expired", name) : text.meaning);
    }
    draft_.timer_places = places_of(file_.timers);
    check_count(root_, "timers", draft_.table.timers.size(), most_names - 1);
  }

  void take_counters() {
    for (const auto& [name, text] : file_.counters.items) {
      draft_.table.counters.push_back({name, text.limit, draft_.table.conditions.size()});
      add_derived(draft_.table.conditions, *text.reader, "reached", text.reached, name + "-reached",
                  text.meaning.empty() ? fmt::format("counter {} is at its limit", name) : text.meaning);
    }
    draft_.counter_places = places_of(file_.counters);
    check_count(root_, "counters", draft_.table.conditions.size(), most_conditions);
  }

  void take_groups() {
    const std::vector<std::string> events = names_of(draft_.table.events);
    for (const auto& [name, members] : file_.groups.items) {
      TableReader section = *file_.groups.reader;
      if (name == others_name || std::find(events.begin(), events.end(), name) != events.end()) {
        section.report(name, fmt::format("\"{}\" is declared twice, expected a name of its own", name));
      }
      DraftGroup group{name, {}};
      for (std::size_t i = 0; i < members.size(); ++i) {
        const auto found = std::find(events.begin(), events.end(), members[i]);
        if (found == events.end()) {
          section.report(name, i, reading::unknown_name_message("event", members[i], events));
        } else {
          group.events.push_back(static_cast<std::size_t>(std::distance(events.begin(), found)));
        }
      }
      draft_.groups.push_back(std::move(group));
    }
  }

  TableReader& root_;
  const StateTableFile& file_;
  Draft& draft_;
};

StateTable read_document(reading::Document& document) {
  TableReader root = document.root();
  StateTableFile file;
  read_record(root, state_table_fields(), file);
  Draft draft;
  Declarations(root, file, draft).read();
  read_rules(root, file, draft);
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

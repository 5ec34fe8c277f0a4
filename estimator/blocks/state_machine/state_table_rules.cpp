// Reads the states of a table and their rules: `on` rows, `ignore` lists, commands and guards.
//
// Tested by tests/blocks/state_machine/state_table_errors_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <sstream>
#include <utility>

#include "blocks/state_machine/state_table_draft.hpp"
#include "reading/suggest.hpp"

namespace portweigh::blocks {
namespace {

using reading::TableReader;

constexpr std::size_t most_states = 250;

template <class Items>
std::optional<std::size_t> find_name(const Items& items, const std::string& name) {
  const auto found =
      std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.name == name; });
  if (found == items.end()) return std::nullopt;
  return static_cast<std::size_t>(std::distance(items.begin(), found));
}

// The item that a mistyped name most likely means, so that one slip isn't reported as several mistakes.
template <class Items>
std::optional<std::size_t> report_unknown(Mention& place, std::string_view noun, const std::string& name,
                                          const Items& items) {
  const std::vector<std::string> names = names_of(items);
  place.report(reading::unknown_name_message(noun, name, names));
  const auto nearest = reading::nearest_name(name, names);
  return nearest ? find_name(items, *nearest) : std::nullopt;
}

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

class RuleReader {
 public:
  explicit RuleReader(Draft& draft) : draft_(draft) {}

  void read(TableReader& root) {
    std::vector<TableReader> readers = root.required_tables("state");
    for (TableReader& reader : readers) read_name(reader);
    for (std::size_t i = 0; i < readers.size(); ++i) read_state(readers[i], draft_.states[i]);
    if (readers.size() > most_states) {
      root.report("state", fmt::format("{} states, expected at most {}", readers.size(), most_states));
    }
    if (auto anywhere = root.optional_table("anywhere")) {
      read_rules_of(*anywhere, draft_.anywhere);
      anywhere->finish();
    }
    read_initial(root);
  }

 private:
  void read_name(TableReader& reader) {
    DraftState draft{{}, {reader, "name", std::nullopt}, {}};
    draft.state.name = reader.required_string("name", reading::Pattern::identifier);
    const auto is_same = [&](const DraftState& other) { return other.state.name == draft.state.name; };
    if (!draft.state.name.empty() && std::any_of(draft_.states.begin(), draft_.states.end(), is_same)) {
      draft.place.report(
          fmt::format("state \"{}\" is declared twice, expected a name of its own", draft.state.name));
    }
    draft_.states.push_back(std::move(draft));
  }

  // The initial state becomes the first, so that its number is 0 in every encoding.
  void read_initial(TableReader& root) {
    const std::string initial = root.required_string("initial");
    if (initial.empty()) return;
    const auto found = find_state(initial, {root, "initial", std::nullopt});
    if (!found) return;
    draft_.initial_place = Mention{root, "initial", std::nullopt};
    const auto moved = [&](std::size_t index) {
      return index == *found ? 0 : index < *found ? index + 1 : index;
    };
    const auto renumber = [&](std::vector<DraftReaction>& rules) {
      for (DraftReaction& rule : rules) {
        if (rule.reaction.target) rule.reaction.target = moved(*rule.reaction.target);
      }
    };
    for (DraftState& state : draft_.states) renumber(state.rules);
    renumber(draft_.anywhere);
    const auto first = draft_.states.begin();
    std::rotate(first, first + static_cast<std::ptrdiff_t>(*found),
                first + static_cast<std::ptrdiff_t>(*found) + 1);
  }

  void read_state(TableReader& reader, DraftState& draft) {
    State& state = draft.state;
    state.meaning = reader.optional_string("meaning").value_or("");
    state.outputs = read_references(reader, "outputs", "output", draft_.table.outputs);
    state.timers = read_references(reader, "timers", "timer", draft_.table.timers);
    state.enter = read_commands(reader, "enter");
    state.leave = read_commands(reader, "leave");
    // A timer of the state is started before anything else happens in it.
    std::vector<Command> starts;
    for (const std::size_t timer : state.timers) {
      starts.push_back({CommandKind::start, timer});
      state.leave.push_back({CommandKind::stop, timer});
    }
    state.enter.insert(state.enter.begin(), starts.begin(), starts.end());
    read_rules_of(reader, draft.rules);
    reader.finish();
  }

  template <class Items>
  std::vector<std::size_t> read_references(TableReader& reader, const std::string& key, std::string_view noun,
                                           const Items& items) {
    std::vector<std::size_t> indices;
    const std::vector<std::string> names = reader.optional_strings(key);
    for (std::size_t i = 0; i < names.size(); ++i) {
      Mention place{reader, key, i};
      auto found = find_name(items, names[i]);
      if (!found) found = report_unknown(place, noun, names[i], items);
      if (!found) continue;
      if (std::find(indices.begin(), indices.end(), *found) != indices.end()) {
        reader.report(key, i, fmt::format("{} \"{}\" is listed twice", noun, names[i]));
      } else {
        indices.push_back(*found);
      }
    }
    return indices;
  }

  std::vector<Command> read_commands(TableReader& reader, const std::string& key) {
    std::vector<Command> commands;
    const std::vector<std::string> texts = reader.optional_strings(key);
    for (std::size_t i = 0; i < texts.size(); ++i) {
      const auto command = read_command(texts[i], {reader, key, i});
      if (!command) continue;
      if (std::find(commands.begin(), commands.end(), *command) != commands.end()) {
        reader.report(key, i, fmt::format("command \"{}\" is listed twice", texts[i]));
      }
      commands.push_back(*command);
    }
    return commands;
  }

  std::optional<Command> read_command(const std::string& text, Mention place) {
    const std::vector<std::string> words = words_of(text);
    if (words.size() == 1) return refer(CommandKind::act, draft_.table.actions, "action", words[0], place);
    if (words.size() == 2) {
      if (words[0] == "start")
        return refer(CommandKind::start, draft_.table.timers, "timer", words[1], place);
      if (words[0] == "stop") return refer(CommandKind::stop, draft_.table.timers, "timer", words[1], place);
      if (words[0] == "count") {
        return refer(CommandKind::count, draft_.table.counters, "counter", words[1], place);
      }
      if (words[0] == "clear") {
        return refer(CommandKind::clear, draft_.table.counters, "counter", words[1], place);
      }
    }
    place.report(
        fmt::format("unknown command \"{}\", expected the name of an action, \"start TIMER\", "
                    "\"stop TIMER\", \"count COUNTER\" or \"clear COUNTER\"",
                    text));
    return std::nullopt;
  }

  template <class Items>
  std::optional<Command> refer(CommandKind kind, const Items& items, std::string_view noun,
                               const std::string& name, Mention& place) {
    auto found = find_name(items, name);
    if (!found) found = report_unknown(place, noun, name, items);
    return found ? std::optional<Command>({kind, *found}) : std::nullopt;
  }

  void read_rules_of(TableReader& reader, std::vector<DraftReaction>& rules) {
    for (TableReader& row : reader.optional_tables("on")) {
      read_row(row, rules);
      row.finish();
    }
    const std::vector<std::string> ignored = reader.optional_strings("ignore");
    for (std::size_t i = 0; i < ignored.size(); ++i) {
      add_rules(ignored[i], Reaction{}, {reader, "ignore", i}, rules);
    }
  }

  void read_row(TableReader& row, std::vector<DraftReaction>& rules) {
    Reaction reaction;
    if (const auto when = row.optional_string("when")) reaction.guard = read_guard(*when, {row, "when", {}});
    if (const auto target = row.optional_string("to")) {
      reaction.target = find_state(*target, {row, "to", std::nullopt});
    }
    reaction.commands = read_commands(row, "do");
    if (!row.has("to") && !row.has("do")) {
      row.report(
          "a reaction without effect, expected \"to\" or \"do\"; events without effect stand in \"ignore\"");
    }
    const bool has_list = row.has("events");
    if (has_list == row.has("event")) {
      row.accept("event");
      row.accept("events");
      row.report("expected either \"event\" or \"events\"");
    } else if (has_list) {
      const std::vector<std::string> names = row.required_strings("events");
      for (std::size_t i = 0; i < names.size(); ++i) add_rules(names[i], reaction, {row, "events", i}, rules);
    } else {
      add_rules(row.required_string("event"), reaction, {row, "event", std::nullopt}, rules);
    }
  }

  // One rule for an event, one for each event of a group, or one for all others.
  void add_rules(const std::string& name, const Reaction& reaction, Mention place,
                 std::vector<DraftReaction>& rules) {
    if (name == others_name) {
      rules.push_back({0, Rank::others, reaction, std::move(place)});
    } else if (const auto event = find_name(draft_.table.events, name)) {
      rules.push_back({*event, Rank::named, reaction, std::move(place)});
    } else if (const auto group = find_name(draft_.groups, name)) {
      for (const std::size_t member : draft_.groups[*group].events) {
        rules.push_back({member, Rank::group, reaction, place});
      }
    } else {
      std::vector<std::string> names = names_of(draft_.table.events);
      for (const DraftGroup& known : draft_.groups) names.push_back(known.name);
      names.emplace_back(others_name);
      place.report(reading::unknown_name_message("event", name, names));
      const auto nearest = reading::nearest_name(name, names);
      if (nearest) add_rules(*nearest, reaction, std::move(place), rules);
    }
  }

  // "a and not b and c"
  Guard read_guard(const std::string& text, Mention place) {
    Guard guard;
    const std::vector<std::string> words = words_of(text);
    std::size_t next = 0;
    while (true) {
      const bool expected = next >= words.size() || words[next] != "not";
      if (!expected) ++next;
      if (next >= words.size()) break;
      auto found = find_name(draft_.table.conditions, words[next]);
      if (!found) found = report_unknown(place, "condition", words[next], draft_.table.conditions);
      if (found) guard.push_back({*found, expected});
      if (++next == words.size()) return sorted_guard(std::move(guard), place);
      if (words[next++] != "and") break;
    }
    place.report(fmt::format("\"{}\" is not a guard, expected conditions such as \"a and not b\"", text));
    return {};
  }

  static Guard sorted_guard(Guard guard, Mention& place) {
    std::sort(guard.begin(), guard.end());
    const auto same = [](const GuardTerm& a, const GuardTerm& b) { return a.condition == b.condition; };
    if (std::adjacent_find(guard.begin(), guard.end(), same) != guard.end()) {
      place.report("a condition stands twice in this guard");
    }
    return guard;
  }

  std::optional<std::size_t> find_state(const std::string& name, Mention place) const {
    const auto known = [&](const std::string& wanted) -> std::optional<std::size_t> {
      for (std::size_t i = 0; i < draft_.states.size(); ++i) {
        if (draft_.states[i].state.name == wanted) return i;
      }
      return std::nullopt;
    };
    if (const auto found = known(name)) return found;
    std::vector<std::string> names;
    for (const DraftState& state : draft_.states) names.push_back(state.state.name);
    place.report(reading::unknown_name_message("state", name, names));
    const auto nearest = reading::nearest_name(name, names);
    return nearest ? known(*nearest) : std::nullopt;
  }

  Draft& draft_;
};

}  // namespace

void read_rules(reading::TableReader& root, Draft& draft) {
  RuleReader(draft).read(root);
}

}  // namespace portweigh::blocks

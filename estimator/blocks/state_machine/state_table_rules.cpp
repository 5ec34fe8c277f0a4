// Takes up the states of a table and their rules: `on` rows, `ignore` lists, commands and guards.
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
  RuleReader(TableReader& root, const StateTableFile& file, Draft& draft)
      : root_(root), file_(file), draft_(draft) {}

  void read() {
    for (const StateText& text : file_.states) add_state(text);
    for (std::size_t i = 0; i < file_.states.size(); ++i) read_state(file_.states[i], draft_.states[i]);
    check_count();
    if (file_.anywhere) read_rules_of(*file_.anywhere, draft_.anywhere);
    if (!file_.initial.empty()) make_first(file_.initial);
  }

 private:
  void check_count() {
    const std::size_t count = file_.states.size();
    if (count > most_states) {
      root_.report("state", fmt::format("{} states, expected at most {}", count, most_states));
    }
  }

  void add_state(const StateText& text) {
    DraftState draft{{}, {*text.reader, "name", std::nullopt}, {}};
    draft.state.name = text.name;
    const auto is_same = [&](const DraftState& other) { return other.state.name == text.name; };
    if (!text.name.empty() && std::any_of(draft_.states.begin(), draft_.states.end(), is_same)) {
      draft.place.report(
          fmt::format("state \"{}\" is declared twice, expected a name of its own", text.name));
    }
    draft_.states.push_back(std::move(draft));
  }

  // The initial state becomes the first, so that its number is 0 in every encoding.
  void make_first(const std::string& initial) {
    const Mention place{root_, "initial", std::nullopt};
    const auto found = find_state(initial, place);
    if (!found) return;
    draft_.initial_place = place;
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

  void read_state(const StateText& text, DraftState& draft) {
    State& state = draft.state;
    const TableReader& reader = *text.reader;
    state.meaning = text.meaning;
    state.outputs = read_references(text.outputs, {reader, "outputs", 0}, "output", draft_.table.outputs);
    state.timers = read_references(text.timers, {reader, "timers", 0}, "timer", draft_.table.timers);
    state.enter = read_commands(text.enter, {reader, "enter", 0});
    state.leave = read_commands(text.leave, {reader, "leave", 0});
    // A timer of the state is started before anything else happens in it.
    std::vector<Command> starts;
    for (const std::size_t timer : state.timers) {
      starts.push_back({CommandKind::start, timer});
      state.leave.push_back({CommandKind::stop, timer});
    }
    state.enter.insert(state.enter.begin(), starts.begin(), starts.end());
    read_rules_of(text, draft.rules);
  }

  template <class Items>
  std::vector<std::size_t> read_references(const std::vector<std::string>& names, Mention place,
                                           std::string_view noun, const Items& items) {
    std::vector<std::size_t> indices;
    for (std::size_t i = 0; i < names.size(); ++i) {
      place.element = i;
      auto found = find_name(items, names[i]);
      if (!found) found = report_unknown(place, noun, names[i], items);
      if (!found) continue;
      if (std::find(indices.begin(), indices.end(), *found) != indices.end()) {
        place.report(fmt::format("{} \"{}\" is listed twice", noun, names[i]));
      } else {
        indices.push_back(*found);
      }
    }
    return indices;
  }

  std::vector<Command> read_commands(const std::vector<std::string>& texts, Mention place) {
    std::vector<Command> commands;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      place.element = i;
      const auto command = read_command(texts[i], place);
      if (!command) continue;
      if (std::find(commands.begin(), commands.end(), *command) != commands.end()) {
        place.report(fmt::format("command \"{}\" is listed twice", texts[i]));
      }
      commands.push_back(*command);
    }
    return commands;
  }

  std::optional<Command> read_command(const std::string& text, Mention place) {
    const std::vector<std::string> words = words_of(text);
    const StateTable& table = draft_.table;
    if (words.size() == 1) return refer(CommandKind::act, table.actions, "action", words[0], place);
    if (words.size() == 2) {
      const std::string& verb = words[0];
      const std::string& name = words[1];
      if (verb == "start") return refer(CommandKind::start, table.timers, "timer", name, place);
      if (verb == "stop") return refer(CommandKind::stop, table.timers, "timer", name, place);
      if (verb == "count") return refer(CommandKind::count, table.counters, "counter", name, place);
      if (verb == "clear") return refer(CommandKind::clear, table.counters, "counter", name, place);
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

  void read_rules_of(const RulesText& text, std::vector<DraftReaction>& rules) {
    for (const RowText& row : text.rows) read_row(row, rules);
    add_all(text.ignored, Reaction{}, {*text.reader, "ignore", 0}, rules);
  }

  void read_row(const RowText& text, std::vector<DraftReaction>& rules) {
    TableReader row = *text.reader;
    Reaction reaction;
    if (!text.when.empty()) reaction.guard = read_guard(text.when, {row, "when", {}});
    if (!text.to.empty()) reaction.target = find_state(text.to, {row, "to", {}});
    reaction.commands = read_commands(text.commands, {row, "do", 0});
    if (!row.has("to") && !row.has("do")) {
      row.report(
          "a reaction without effect, expected \"to\" or \"do\"; events without effect stand in \"ignore\"");
    }
    const bool has_list = row.has("events");
    if (has_list == row.has("event")) {
      row.report("expected either \"event\" or \"events\"");
    } else if (has_list) {
      add_all(text.events, reaction, {row, "events", 0}, rules);
    } else {
      add_rules(text.event, reaction, {row, "event", {}}, rules);
    }
  }

  void add_all(const std::vector<std::string>& names, const Reaction& reaction, Mention place,
               std::vector<DraftReaction>& rules) {
    for (std::size_t i = 0; i < names.size(); ++i) {
      place.element = i;
      add_rules(names[i], reaction, place, rules);
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
    const auto found = find_name(file_.states, name);
    return found ? found : report_unknown(place, "state", name, file_.states);
  }

  TableReader& root_;
  const StateTableFile& file_;
  Draft& draft_;
};

}  // namespace

void read_rules(reading::TableReader& root, const StateTableFile& file, Draft& draft) {
  RuleReader(root, file, draft).read();
}

}  // namespace portweigh::blocks

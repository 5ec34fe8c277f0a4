#include "blocks/state_machine/state_table_file.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "figures/units/dimension.hpp"

namespace portweigh::blocks {
namespace {

using namespace reading;

constexpr Presence optional = Presence::optional;
constexpr double longest_timer_s = 3600.0;
constexpr unsigned largest_limit = 255;

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

// `read_text(section, key)` reads what stands at each name.
template <class Text, class ReadText>
Field<StateTableFile> named(std::string key, NamedTexts<Text> StateTableFile::*member, std::string meaning,
                            Shape shape, ReadText read_text,
                            Multiplicity multiplicity = Multiplicity::named) {
  auto read = [key, member, read_text](TableReader& root, StateTableFile& file) {
    auto& texts = file.*member;
    texts.reader = root.optional_table(key);
    if (!texts.reader) return;
    for (const std::string& name : keys_in_file_order(*texts.reader)) {
      if (!is_identifier(name)) {
        texts.reader->report(name, fmt::format("\"{}\" is not a name, expected lower-case words joined by "
                                               "hyphens, such as \"send-request\"",
                                               name));
      }
      texts.items.push_back({name, read_text(*texts.reader, name)});
    }
  };
  return {{std::move(key), std::move(meaning), optional, multiplicity, std::move(shape)}, std::move(read)};
}

Field<StateTableFile> names(std::string key, NamedTexts<std::string> StateTableFile::*member,
                            std::string meaning) {
  return named(std::move(key), member, std::move(meaning), TextShape{},
               [](TableReader& section, const std::string& name) { return section.required_string(name); });
}

template <class Text>
Field<StateTableFile> named_tables(std::string key, NamedTexts<Text> StateTableFile::*member,
                                   const Fields<Text>& fields, std::string meaning) {
  return named(std::move(key), member, std::move(meaning), TableShape{infos_of(fields)},
               [&fields](TableReader& section, const std::string& name) {
                 Text text;
                 TableReader inner = section.required_table(name);
                 read_record(inner, fields, text);
                 return text;
               });
}

Field<StateTableFile> groups() {
  return named(
      "groups", &StateTableFile::groups, "names for lists of events", TextShape{},
      [](TableReader& section, const std::string& name) { return section.required_strings(name); },
      Multiplicity::named_lists);
}

const Fields<TimerText>& timer_fields() {
  static const Fields<TimerText> fields = {
      range("duration", &TimerText::duration,
            QuantityRule(figures::dimensions::time).between(0.0, longest_timer_s), "ms",
            "time until it expires"),
      text("expires", &TimerText::expires, "its event (default: the timer's name with -timeout)",
           Pattern::identifier, optional),
      text("meaning", &TimerText::meaning, "what it stands for", Pattern::any, optional)};
  return fields;
}

const Fields<CounterText>& counter_fields() {
  static const Fields<CounterText> fields = {
      count("limit", &CounterText::limit, 1, largest_limit, "counts up to this and stays there"),
      text("reached", &CounterText::reached, "its condition (default: the counter's name with -reached)",
           Pattern::identifier, optional),
      text("meaning", &CounterText::meaning, "what is counted", Pattern::any, optional)};
  return fields;
}

// A list of texts that may be absent.
template <class Record>
Field<Record> texts(std::string key, std::vector<std::string> Record::*member, std::string meaning) {
  return words(std::move(key), member, std::move(meaning), optional, Pattern::any);
}

const Fields<RowText>& row_fields() {
  static const Fields<RowText> fields = {
      text("event", &RowText::event, "an event, a group, or \"others\"", Pattern::any, optional),
      texts("events", &RowText::events, "several of them"),
      text("when", &RowText::when, "conditions that must hold, such as \"a and not b\"", Pattern::any,
           optional),
      text("to", &RowText::to, "state to go to; without it the state is not left", Pattern::any, optional),
      texts("do", &RowText::commands,
            "actions, \"start TIMER\", \"stop TIMER\", \"count COUNTER\", \"clear COUNTER\"")};
  return fields;
}

const Fields<RulesText>& rules_fields() {
  static const Fields<RulesText> fields = {
      tables("on", &RulesText::rows, row_fields(), "reactions", optional),
      texts("ignore", &RulesText::ignored, "events, groups or \"others\" that change nothing")};
  return fields;
}

Fields<StateText> list_state_fields() {
  Fields<StateText> fields = {
      text("name", &StateText::name, "name of the state", Pattern::identifier),
      text("meaning", &StateText::meaning, "what the machine does or waits for", Pattern::any, optional),
      texts("outputs", &StateText::outputs, "outputs held while the state lasts"),
      texts("timers", &StateText::timers, "timers that run while the state lasts"),
      texts("enter", &StateText::enter, "commands on entering, as in \"do\""),
      texts("leave", &StateText::leave, "commands on leaving, as in \"do\"")};
  for (const auto& rule : rules_fields()) fields.push_back({rule.info, rule.read});
  return fields;
}

const Fields<StateText>& state_fields() {
  static const Fields<StateText> fields = list_state_fields();
  return fields;
}

}  // namespace

const Fields<StateTableFile>& state_table_fields() {
  using F = StateTableFile;
  static const Fields<F> fields = {
      text("name", &F::name, "name of the machine, the same as the file's name", Pattern::identifier),
      text("summary", &F::summary, "one line: what the machine does"),
      text("source", &F::source, "where states and times come from"),
      text("initial", &F::initial, "name of the state after a reset"),
      names("events", &F::events, "what may happen, at most one at a time; name = \"meaning\""),
      names("conditions", &F::conditions, "levels that guards look at; name = \"meaning\""),
      names("actions", &F::actions, "what is done once; name = \"meaning\""),
      names("outputs", &F::outputs, "levels that states hold; name = \"meaning\""),
      named_tables("timers", &F::timers, timer_fields(), "timers by name"),
      named_tables("counters", &F::counters, counter_fields(), "counters by name"),
      groups(),
      table("anywhere", &F::anywhere, rules_fields(),
            "reactions of every state that says nothing itself about an event"),
      tables("state", &F::states, state_fields(), "the states")};
  return fields;
}

}  // namespace portweigh::blocks

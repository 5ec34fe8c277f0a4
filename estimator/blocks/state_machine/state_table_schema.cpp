#include "blocks/state_machine/state_table_schema.hpp"

#include <nlohmann/json.hpp>

#include "figures/units/dimension.hpp"
#include "reading/field.hpp"
#include "reading/schema.hpp"

namespace portweigh::blocks {
namespace {

using reading::FieldInfo;
using reading::Multiplicity;
using reading::Presence;

FieldInfo text(std::string key, std::string meaning, Presence presence = Presence::required,
               reading::Pattern pattern = reading::Pattern::any) {
  return {std::move(key), std::move(meaning), presence, Multiplicity::one, reading::TextShape{pattern}};
}

FieldInfo texts(std::string key, std::string meaning) {
  return {std::move(key), std::move(meaning), Presence::optional, Multiplicity::list, reading::TextShape{}};
}

// A table whose keys are names and whose values say what they mean.
FieldInfo names(std::string key, std::string meaning) {
  return {std::move(key), std::move(meaning), Presence::optional, Multiplicity::named, reading::TextShape{}};
}

FieldInfo tables(std::string key, std::string meaning, Presence presence, Multiplicity multiplicity,
                 std::vector<FieldInfo> fields) {
  return {std::move(key), std::move(meaning), presence, multiplicity, reading::TableShape{std::move(fields)}};
}

std::vector<FieldInfo> timer_fields() {
  const reading::QuantityRule time = figures::dimensions::time;
  return {{"duration", "time until it expires", Presence::required, Multiplicity::one,
           reading::RangeShape{time.between(0.0, 3600.0), "ms"}},
          text("expires", "its event (default: the timer's name with -timeout)", Presence::optional,
               reading::Pattern::identifier),
          text("meaning", "what it stands for", Presence::optional)};
}

std::vector<FieldInfo> counter_fields() {
  return {{"limit", "counts up to this and stays there", Presence::required, Multiplicity::one,
           reading::IntegerShape{1, 255}},
          text("reached", "its condition (default: the counter's name with -reached)", Presence::optional,
               reading::Pattern::identifier),
          text("meaning", "what is counted", Presence::optional)};
}

std::vector<FieldInfo> rules() {
  std::vector<FieldInfo> row = {
      text("event", "an event, a group, or \"others\"", Presence::optional),
      texts("events", "several of them"),
      text("when", "conditions that must hold, such as \"a and not b\"", Presence::optional),
      text("to", "state to go to; without it the state is not left", Presence::optional),
      texts("do", "actions, \"start TIMER\", \"stop TIMER\", \"count COUNTER\", \"clear COUNTER\"")};
  return {tables("on", "reactions", Presence::optional, Multiplicity::list, std::move(row)),
          texts("ignore", "events, groups or \"others\" that change nothing")};
}

std::vector<FieldInfo> state_fields() {
  std::vector<FieldInfo> fields = {
      text("name", "name of the state", Presence::required, reading::Pattern::identifier),
      text("meaning", "what the machine does or waits for", Presence::optional),
      texts("outputs", "outputs held while the state lasts"),
      texts("timers", "timers that run while the state lasts"),
      texts("enter", "commands on entering, as in \"do\""),
      texts("leave", "commands on leaving, as in \"do\"")};
  for (FieldInfo& field : rules()) fields.push_back(std::move(field));
  return fields;
}

std::vector<FieldInfo> file_fields() {
  return {
      text("name", "name of the machine, the same as the file's name", Presence::required,
           reading::Pattern::identifier),
      text("summary", "one line: what the machine does"),
      text("source", "where states and times come from"),
      text("initial", "name of the state after a reset"),
      names("events", "what may happen, at most one at a time; name = \"meaning\""),
      names("conditions", "levels that guards look at; name = \"meaning\""),
      names("actions", "what is done once; name = \"meaning\""),
      names("outputs", "levels that states hold; name = \"meaning\""),
      tables("timers", "timers by name", Presence::optional, Multiplicity::named, timer_fields()),
      tables("counters", "counters by name", Presence::optional, Multiplicity::named, counter_fields()),
      names("groups", "names for lists of events"),
      tables("anywhere", "reactions of every state that says nothing itself about an event",
             Presence::optional, Multiplicity::one, rules()),
      tables("state", "the states", Presence::required, Multiplicity::list, state_fields()),
  };
}

}  // namespace

nlohmann::ordered_json state_table_schema() {
  nlohmann::ordered_json schema =
      reading::schema_of("state-machine.schema.json", "State machine", file_fields());
  nlohmann::ordered_json& member = schema["properties"]["groups"]["additionalProperties"];
  member = {{"type", "array"}, {"items", member}, {"minItems", 1}};
  return schema;
}

}  // namespace portweigh::blocks

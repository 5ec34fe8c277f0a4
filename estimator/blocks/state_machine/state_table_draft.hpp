// A state table while it is being read: names as declared, rules as written, each with its place in the file.
//
// Reading has four steps, so that all mistakes of a file are told in one run: the file as written
// (state_table_file.cpp), declarations (state_table_reader.cpp), states and their rules (state_table_rules.cpp), then which rule answers which
// event in which state and whether the machine makes sense (state_table_check.cpp).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "blocks/state_machine/state_table.hpp"
#include "blocks/state_machine/state_table_file.hpp"

namespace portweigh::blocks {

// Where something stands in the file: a key of a table, or an element of its array.
struct Mention {
  reading::TableReader reader;
  std::string key;
  std::optional<std::size_t> element;

  void report(std::string message) {
    if (element) {
      reader.report(key, *element, std::move(message));
    } else {
      reader.report(key, std::move(message));
    }
  }
};

// How a rule names its event: the more specific wins.
enum class Rank : std::uint8_t { named, group, others };

struct DraftReaction {
  std::size_t event = 0;  // without meaning for Rank::others
  Rank rank = Rank::named;
  Reaction reaction;
  Mention place;
};

struct DraftState {
  State state;
  Mention place;
  std::vector<DraftReaction> rules;
};

struct DraftGroup {
  std::string name;
  std::vector<std::size_t> events;
};

struct Draft {
  StateTable table;  // states are filled in at the end
  std::vector<DraftGroup> groups;
  std::vector<DraftReaction> anywhere;
  std::vector<DraftState> states;
  // Places of the declarations, in the order of the table's lists (timers' events, counters' conditions
  // have none of their own).
  std::vector<Mention> event_places;
  std::vector<Mention> condition_places;
  std::vector<Mention> action_places;
  std::vector<Mention> output_places;
  std::vector<Mention> timer_places;
  std::vector<Mention> counter_places;
  std::optional<Mention> initial_place;
};

inline constexpr const char* others_name = "others";

void read_rules(reading::TableReader& root, const StateTableFile& file, Draft& draft);
void resolve_reactions(Draft& draft);
void check_machine(Draft& draft);

// Names of a list of items, for messages.
template <class Items>
std::vector<std::string> names_of(const Items& items) {
  std::vector<std::string> names;
  for (const auto& item : items) names.push_back(item.name);
  return names;
}

}  // namespace portweigh::blocks

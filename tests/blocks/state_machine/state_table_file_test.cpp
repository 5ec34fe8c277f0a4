// The schema for editors is up to date, and speaks of the keys that the reader knows.
#include "blocks/state_machine/state_table_file.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "blocks/state_machine/state_table.hpp"
#include "reading/diagnostic.hpp"
#include "reading/schema.hpp"

using namespace portweigh;
using namespace portweigh::blocks;
using Json = nlohmann::ordered_json;

namespace {

// The keys that the reader expects in the table where it finds the unknown key `zzzzzz`.
std::vector<std::set<std::string>> expected_by_reader(const std::string& text) {
  const std::string opening = "unknown key \"zzzzzz\", expected one of ";
  std::vector<std::set<std::string>> lists;
  try {
    parse_state_table(text, "m.toml");
  } catch (const reading::InputError& error) {
    for (const reading::Diagnostic& one : error.diagnostics().all()) {
      if (!one.message.starts_with(opening)) continue;
      std::set<std::string> keys;
      std::string rest = one.message.substr(opening.size());
      for (std::size_t comma = rest.find(", "); comma != std::string::npos; comma = rest.find(", ")) {
        keys.insert(rest.substr(0, comma));
        rest = rest.substr(comma + 2);
      }
      keys.insert(rest);
      lists.push_back(keys);
    }
  }
  return lists;
}

Json state_table_schema() {
  return reading::schema_of("state-machine.schema.json", "State machine",
                            reading::infos_of(state_table_fields()));
}

// `source` may stand in any table.
std::set<std::string> keys_of(const Json& schema) {
  std::set<std::string> keys;
  for (const auto& [key, value] : schema.at("properties").items()) {
    if (key != "source") keys.insert(key);
  }
  return keys;
}

std::set<std::string> without_source(std::set<std::string> keys) {
  keys.erase("source");
  return keys;
}

}  // namespace

TEST_CASE("The schema file of state machines is the one made from the list of keys") {
  std::ifstream file(PORTWEIGH_CATALOG_DIR "/schema/state-machine.schema.json", std::ios::binary);
  const std::string stored{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  CHECK(stored == reading::to_text(state_table_schema()));
}

TEST_CASE("Schema and reader of state machines know the same keys") {
  const Json schema = state_table_schema();
  const Json& properties = schema.at("properties");
  const auto lists = expected_by_reader(R"(zzzzzz = 1
[events]
a = "a"
[timers.t]
zzzzzz = 1
[counters.c]
zzzzzz = 1
[anywhere]
zzzzzz = 1
[[state]]
zzzzzz = 1
on = [{ zzzzzz = 1 }]
)");
  REQUIRE(lists.size() == 6);
  CHECK(without_source(lists[0]) == keys_of(schema));
  CHECK(lists[1] == keys_of(properties.at("timers").at("additionalProperties")));
  CHECK(lists[2] == keys_of(properties.at("counters").at("additionalProperties")));
  CHECK(lists[3] == keys_of(properties.at("anywhere")));
  CHECK(lists[4] == keys_of(properties.at("state").at("items")));
  CHECK(lists[5] == keys_of(properties.at("state").at("items").at("properties").at("on").at("items")));
}

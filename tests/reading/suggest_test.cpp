#include "reading/suggest.hpp"

#include <catch2/catch.hpp>
#include <vector>

using namespace portweigh::reading;

TEST_CASE("edit distance counts inserts, deletions, replacements and swaps") {
  CHECK(edit_distance("", "") == 0);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("leakge", "leakage") == 1);
  CHECK(edit_distance("clokc", "clock") == 1);
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("Clock", "clock") == 0);
  CHECK(edit_distance("ca", "abc") == 3);  // optimal string alignment, not the unrestricted distance 2
}

TEST_CASE("a name is suggested only if it is near") {
  const std::vector<std::string> names = {"clock", "leakage", "supply"};
  CHECK(nearest_name("leakge", names) == "leakage");
  CHECK(nearest_name("clokc", names) == "clock");
  CHECK_FALSE(nearest_name("zebra", names).has_value());
  CHECK_FALSE(nearest_name("x", names).has_value());
  CHECK_FALSE(nearest_name(std::string(1000, 'a'), names).has_value());
  CHECK_FALSE(nearest_name("clock", {}).has_value());
}

TEST_CASE("the message lists what was expected") {
  const std::vector<std::string> names = {"clock", "leakage"};
  CHECK(unknown_name_message("key", "leakge", names) ==
        "unknown key \"leakge\", expected one of clock, leakage; nearest: \"leakage\"");
  CHECK(unknown_name_message("block", "zebra", names) ==
        "unknown block \"zebra\", expected one of clock, leakage");
  CHECK(unknown_name_message("key", "a", {}) == "unknown key \"a\", expected no key here");
}

TEST_CASE("the nearest names come nearest first, and no more than asked for") {
  const std::vector<std::string> names = {"mcu-16b-lp", "pl-flash-c", "pl-flash-b", "ff-sink"};
  CHECK(nearest_names("pl-flash-bb", names, 3) == std::vector<std::string>{"pl-flash-b", "pl-flash-c", "ff-sink"});
  CHECK(nearest_names("ff-sink", names, 1) == std::vector<std::string>{"ff-sink"});
  CHECK(nearest_names("zebra", names, 9).size() == 4);
  CHECK(nearest_names(std::string(1000, 'a'), names, 3).empty());
}

#include "options/search/consider.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;

TEST_CASE("The next smaller part of the family says what it lacks") {
  const auto& all = tests::demo().considered.options;
  const auto option =
      std::find_if(all.begin(), all.end(), [](const auto& one) { return one.id == "pl-flash-d"; });
  REQUIRE(option != all.end());
  const auto note = std::find_if(option->notes.begin(), option->notes.end(), [](const std::string& text) {
    return text.starts_with("next down, pl-flash-c: needs ");
  });
  REQUIRE(note != option->notes.end());
  CHECK(note->find("cells") != std::string::npos);
}

TEST_CASE("A neighbour that fits too is given with what it costs more or less") {
  const auto& all = tests::demo().considered.options;
  const auto option =
      std::find_if(all.begin(), all.end(), [](const auto& one) { return one.id == "pl-sram-b"; });
  REQUIRE(option != all.end());
  CHECK(std::any_of(option->notes.begin(), option->notes.end(), [](const std::string& text) {
    return text.starts_with("next up, pl-sram-c: also fits: +");
  }));
}

#include "exploration/selection.hpp"

#include <catch2/catch.hpp>

#include "made_options_fixture.hpp"

using namespace portweigh;

TEST_CASE("A selection keeps the named options in their own order, and all where none is named") {
  const auto three = [] {
    std::vector<options::Option> all;
    for (const char* id : {"a", "b", "c"}) {
      all.push_back(tests::option_of(id, [](auto&, auto x, auto) { return x + 0.0; }));
    }
    return all;
  };
  const auto some = exploration::select_options(three(), {"c", "a", "unknown"});
  REQUIRE(some.size() == 2);
  CHECK(some[0].id == "a");
  CHECK(some[1].id == "c");
  CHECK(exploration::select_options(three(), {}).size() == 3);
}

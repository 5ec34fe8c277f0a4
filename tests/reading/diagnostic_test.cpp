#include "reading/diagnostic.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::reading;

TEST_CASE("a diagnostic shows place, message, line and caret") {
  CHECK(to_text({"a.toml", 3, 5, "wrong", "key = 1"}) == "a.toml:3:5: wrong\n  key = 1\n      ^");
  CHECK(to_text({"a.toml", 3, 1, "wrong", ""}) == "a.toml:3:1: wrong");
  CHECK(to_text({"a.toml", 0, 0, "no such file", ""}) == "a.toml: no such file");
}

TEST_CASE("the caret counts characters and keeps tabs") {
  CHECK(to_text({"a", 1, 3, "m", "\t\u00B5x"}) == "a:1:3: m\n  \t\u00B5x\n  \t ^");
  CHECK(to_text({"a", 1, 9, "m", "short"}) == "a:1:9: m\n  short\n          ^");
}

TEST_CASE("control characters and endless lines don't reach the terminal") {
  CHECK(to_text({"a", 1, 1, "bad \x1b[31m\nname", "x\x1b"}) == "a:1:1: bad ?[31m?name\n  x?\n  ^");
  CHECK(to_text({"a", 1, 1, "m", std::string(5000, 'x')}) == "a:1:1: m");
}

TEST_CASE("diagnostics are sorted by place, files in order of mention, repeats told once") {
  Diagnostics diagnostics;
  diagnostics.add({"b", 2, 1, "second", ""});
  diagnostics.add({"a", 1, 1, "other file", ""});
  diagnostics.add({"b", 1, 7, "first", ""});
  diagnostics.add({"b", 2, 1, "second", ""});
  diagnostics.sort();
  REQUIRE(diagnostics.all().size() == 3);
  CHECK(diagnostics.all()[0].message == "first");
  CHECK(diagnostics.all()[1].message == "second");
  CHECK(diagnostics.all()[2].message == "other file");
  CHECK(std::string(InputError(diagnostics).what()) == "b:1:7: first\nb:2:1: second\na:1:1: other file");
}

#include "report/terminal/text_table.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::report;

TEST_CASE("A table aligns columns by characters, not bytes, and leaves no trailing spaces") {
  TextTable table({{"part", Align::left}, {"power"}});
  table.add_row({"µ-one", "7 mW"});
  table.add_row({"two", "12.5 mW"});
  CHECK(table.to_text() ==
        "part     power\n"
        "µ-one     7 mW\n"
        "two    12.5 mW\n");
}

TEST_CASE("A row with too many cells is refused") {
  TextTable table({{"only"}});
  CHECK_THROWS_AS(table.add_row({"a", "b"}), std::logic_error);
}

TEST_CASE("Text wraps at spaces and never loses a word") {
  CHECK(wrap("one two three four", 9, "  ") == "one two\n  three\n  four\n");
  CHECK(wrap("unbreakably", 4, "") == "unbreakably\n");
  CHECK(wrap("", 10, "") == "\n");
}

TEST_CASE("A margin bar shows sign and size") {
  CHECK(margin_bar(0.5, 8) == "====....");
  CHECK(margin_bar(1.0, 4) == "====");
  CHECK(margin_bar(0.0, 4) == "....");
  CHECK(margin_bar(-0.01, 4) == "!   ");
  CHECK(margin_bar(-7.0, 4) == "!!!!");
}

TEST_CASE("A number keeps its percent sign, and long names break after their separators") {
  CHECK(wrap("about 99.9 % of all", 10, "") == "about\n99.9 % of\nall\n");
  CHECK(wrap_name("pl+mcu:line/framing/pins", 14, "  ") == "pl+mcu:line/\n  framing/pins\n");
  CHECK(wrap_name("short", 14, "  ") == "short\n");
}

TEST_CASE("A table that is too wide breaks the cells of its widest left columns") {
  TextTable table({{"option", Align::left}, {"cost"}, {"what it is", Align::left}});
  table.add_row({"pl+mcu:line/framing/pins", "1.25", "logic beside a processor"});
  CHECK(table.to_text(40) ==
        "option            cost  what it is\n"
        "pl+mcu:line/      1.25  logic beside a\n"
        "  framing/pins            processor\n");
  CHECK(table.to_text(80) == table.to_text());
}

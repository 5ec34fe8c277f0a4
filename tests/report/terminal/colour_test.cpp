#include "report/terminal/colour.hpp"

#include <catch2/catch.hpp>

#include "report/terminal/text_table.hpp"

using namespace portweigh::report;

TEST_CASE("without colour a text stays as it is, and painted text is as wide as before") {
  CHECK(painted("+15%", Tone::good, Colour::off) == "+15%");
  CHECK(painted("+15%", Tone::plain, Colour::on) == "+15%");
  CHECK(painted("-3%", Tone::bad, Colour::on) == "\x1b[31m-3%\x1b[0m");
  CHECK(display_width(painted("+15%", Tone::strong, Colour::on)) == 4);
  CHECK(display_width("±1") == 2);
}

#include "report/terminal/flip_text.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::report;

TEST_CASE("A change is told as a share of the typical value, of a temperature in kelvin") {
  exploration::Flip flip;
  flip.typical = 0.02;
  flip.value = 0.0236;
  flip.relative = 0.18;
  CHECK(change_text(flip) == "+18 %");
  flip.relative = -0.5;
  CHECK(change_text(flip) == "-50 %");
  flip.typical = 273.15 + 30;
  flip.value = 273.15 + 41;
  flip.relative = 0.2;
  flip.is_temperature = true;
  CHECK(change_text(flip) == "+11 K");
  flip.value = 273.15 + 25.5;
  CHECK(change_text(flip) == "-4.5 K");
}

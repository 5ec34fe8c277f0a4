#include "options/package/escape_layers.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::options;

namespace {

parts::Package array_of(unsigned rows, double pitch_m, unsigned usable_pins) {
  parts::Package package;
  package.leads = parts::Leads::array;
  package.rows = rows;
  package.pitch.value_si = pitch_m;
  package.usable_pins = usable_pins;
  return package;
}

}  // namespace

TEST_CASE("Leads along the edges need one layer") {
  parts::Package package;
  package.usable_pins = 40;
  CHECK(escape_layers(package, 40) == 1);
}

TEST_CASE("Rings of an array leave it by layers of their own") {
  // Rings of 9 x 9: 32, 24, 16, 8 and 1 leads; 62 of 81 usable: 24.5, 18.4, 12.2, 6.1, 0.8.
  const parts::Package fine = array_of(9, 0.4e-3, 62);
  CHECK(escape_layers(fine, 23) == 2);
  CHECK(escape_layers(fine, 25) == 4);
  CHECK(escape_layers(fine, 43) == 6);
  CHECK(escape_layers(fine, 62) == 10);
  // A trace passes between the leads: two rings in a layer.
  const parts::Package wide = array_of(9, 0.8e-3, 62);
  CHECK(escape_layers(wide, 25) == 2);
  CHECK(escape_layers(wide, 43) == 4);
  CHECK(escape_layers(array_of(9, 0.65e-3, 62), 25) == 2);
}

TEST_CASE("Without a count of rows the smallest square that holds the usable pins is taken") {
  // 17 pins: 5 x 5, the outer ring has 16 leads with 16 x 17/25 = 10.9 usable pins.
  const parts::Package package = array_of(0, 0.4e-3, 17);
  CHECK(escape_layers(package, 10) == 2);
  CHECK(escape_layers(package, 11) == 4);
}

TEST_CASE("More pins never need fewer layers") {
  unsigned before = 0;
  for (unsigned pins = 0; pins <= 62; ++pins) {
    const unsigned layers = escape_layers(array_of(9, 0.5e-3, 62), pins);
    CHECK(layers >= before);
    before = layers;
  }
}

TEST_CASE("What the catalog says of a package goes before the rule") {
  parts::Package package = array_of(9, 0.4e-3, 62);
  package.layers = 8;
  CHECK(escape_layers(package, 1) == 8);
}

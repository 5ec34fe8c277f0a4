#include "report/terminal/list_report.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::report;

TEST_CASE("A list of short names is a table that breaks its texts") {
  const std::string summary =
      "a part with a summary so long that a terminal of eighty columns can't hold it all";
  CHECK(listing_text({"parts", {"id", "summary"}, {{"pl-a", summary}, {"mcu-b", "short"}}}) ==
        "id     summary\n"
        "pl-a   a part with a summary so long that a terminal of eighty columns can't\n"
        "         hold it all\n"
        "mcu-b  short\n");
}

TEST_CASE("Long names stay in one piece, with their texts below") {
  const std::string name = "counts.attached_cycles.part-with-a-name/and/blocks";
  CHECK(listing_text({"inputs", {"input", "typical", "meaning"}, {{name, "2 MHz", "cycles a second"}}}) ==
        "input; typical; meaning\n" + name + "\n    2 MHz; cycles a second\n");
}

// The kinds that carry counts, pins and parts instead of a twin.
#include "blocks/supplied/given_counts.hpp"

#include <catch2/catch.hpp>

namespace portweigh::blocks {

TEST_CASE("an analogue front end needs pins and parts but no logic") {
  const Kind kind = analogue_front_end_kind();
  CHECK_FALSE(kind.network);
  CHECK_FALSE(kind.run);
  auto settings = Settings::standard(kind.settings);
  settings.set("comparators", "4");
  settings.set("switches", "3");
  settings.set("references", "2");
  const AnalogueNeeds needs = kind.analogue(settings);
  CHECK(needs.comparators == 4);
  CHECK(needs.watching == 4);
  settings.set("watching", "2");
  CHECK(kind.analogue(settings).watching == 2);
  CHECK(needs.switches == 3);
  CHECK(needs.references == 2);
  const Pins pins = kind.pins(settings);
  CHECK(pins.analogue == 7);
  CHECK(pins.digital_outputs == 3);
  CHECK(pins.total() == 10);
}

TEST_CASE("measured counts come back as they were given") {
  const Kind kind = measured_kind();
  auto settings = Settings::standard(kind.settings);
  settings.set("luts", "418");
  settings.set("registers", "201");
  settings.set("levels", "6");
  settings.set("ram_bits", "1024");
  settings.set("cycles", "37");
  settings.set("code_bytes", "164");
  settings.set("data_bytes", "20");
  const GivenCounts counts = kind.given(settings);
  CHECK(counts.luts == 418);
  CHECK(counts.registers == 201);
  CHECK(counts.levels == 6);
  CHECK(counts.ram_bits == 1024);
  CHECK(counts.cycles == 37);
  CHECK(counts.code_bytes == 164);
  CHECK(counts.data_bytes == 20);
  CHECK(kind.given(Settings::standard(kind.settings)).luts == 0);
}

}  // namespace portweigh::blocks

#include "exploration/structure.hpp"

#include <catch2/catch.hpp>

#include "blocks/registry.hpp"

using namespace portweigh;
using namespace portweigh::exploration;

namespace {

study::Study small_study() {
  study::Study study;
  study.function.timing.bit_rate.range = {270e3, 300e3, 330e3};
  study.function.timing.message_bits.range = figures::exactly(0);
  study.capacity_reserve.range = {0.1, 0.2, 0.3};
  for (const char* name : {"line-code", "crc"}) {
    study::FunctionBlock block;
    block.name = name;
    block.kind = &blocks::find_kind(name);
    block.settings = blocks::Settings::standard(block.kind->settings);
    study.function.blocks.push_back(block);
  }
  return study;
}

std::string message_of(std::string_view input, double value) {
  try {
    with_structure(small_study(), input, value);
  } catch (const AxisError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("Structural inputs are known by name, others are not structural") {
  CHECK(structural_inputs().size() == 6);
  for (const KnownInput& input : structural_inputs()) CHECK(is_structural(input.key));
  CHECK_FALSE(is_structural("duty_cycle"));
}

TEST_CASE("A range keeps its proportions when it moves; an exact zero moves to an exact value") {
  const auto moved = with_structure(small_study(), "function.bit_rate", 600e3).function.timing.bit_rate.range;
  CHECK(moved.low == Approx(540e3));
  CHECK(moved.typical == 600e3);
  CHECK(moved.high == Approx(660e3));
  const auto bits = with_structure(small_study(), "function.message_bits", 64).function.timing.message_bits;
  CHECK(bits.range.low == 64);
  CHECK(bits.range.high == 64);
  CHECK(with_structure(small_study(), "study.capacity_reserve", 0.1).capacity_reserve.range.high ==
        Approx(0.15));
  CHECK(with_structure(small_study(), "function.turn_round", 1e-4).function.timing.turn_round.value_si ==
        1e-4);
  CHECK(with_structure(small_study(), "study.extra_pins", 7).extra_pins == 7);
}

TEST_CASE("Oversampling reaches the timing and the blocks that have it") {
  const study::Study moved = with_structure(small_study(), "function.oversampling", 16);
  CHECK(moved.function.timing.oversampling == 16);
  CHECK(moved.function.blocks[0].settings.integer("oversampling") == 16);
  CHECK(moved.function.blocks[1].settings.values() == small_study().function.blocks[1].settings.values());
}

TEST_CASE("Values that can't be built are refused word for word") {
  CHECK(message_of("function.oversampling", 2.5) ==
        "function.oversampling: 2.5 is no whole number from 4 to 64");
  CHECK(message_of("function.oversampling", 2) == "function.oversampling: 2 is no whole number from 4 to 64");
  CHECK(message_of("study.extra_pins", 201) == "study.extra_pins: 201 is no whole number from 0 to 200");
}

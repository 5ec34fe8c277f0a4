#include "firmware/core.hpp"

#include <catch2/catch.hpp>

#include "core_fixture.hpp"

using namespace portweigh::firmware;

TEST_CASE("the catalog's core classes are complete and in range") {
  for (const auto& name : catalog_core_names()) {
    INFO(name);
    const Core core = read_core(name);
    CHECK(core.name == name);
    for (const auto& range : {core.compiler_cycles, core.compiler_bytes}) {
      CHECK(range.low < range.typical);
      CHECK(range.typical < range.high);
    }
  }
}

TEST_CASE("flash wait states stretch cycles above the zero-wait clock") {
  Core core;
  core.zero_wait_clock_hz = 24e6;
  core.wait_penalty = 0.4;
  CHECK(wait_state_stretch(core, 24e6) == Approx(1.0));
  CHECK(wait_state_stretch(core, 48e6) == Approx(1.4));
  CHECK(wait_state_stretch(core, 49e6) == Approx(1.8));
  CHECK_THROWS_AS(wait_state_stretch(core, 0), std::invalid_argument);
}

#include "firmware/core.hpp"

#include <set>

#include <catch2/catch.hpp>

#include "core_fixture.hpp"

using namespace portweigh::firmware;

TEST_CASE("every field of a core file reaches its own member") {
  Core core;
  double next = 1;
  for (const auto& field : core_fields()) field.value(core) = next++;
  next = 1;
  std::set<std::string> keys;
  for (const auto& field : core_fields()) {
    CHECK(field.value(core) == next++);
    CHECK(keys.insert(field.key).second);
    CHECK(field.lower < field.upper);
  }
  CHECK(core[Operation::load_static].cycles != core[Operation::store_static].cycles);
}

TEST_CASE("choices go to their member and back") {
  Core core;
  for (const auto& choice : core_choices()) {
    for (std::size_t i = 0; i < choice.names.size(); ++i) {
      choice.assign(core, i);
      CHECK(choice.chosen(core) == i);
    }
    CHECK_THROWS_AS(choice.assign(core, choice.names.size()), std::out_of_range);
  }
}

TEST_CASE("the catalog's core classes are complete, in range and say where values come from") {
  for (const auto& name : catalog_core_names()) {
    INFO(name);
    const Core core = read_core(name);
    CHECK(core.name == name);
    CHECK(core.sources.contains("processor"));
    CHECK(core.sources.contains("interrupt"));
    CHECK(core.sources.contains("operation"));
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

#include "options/fabric/soft_processor.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::options;

TEST_CASE("memories of a soft processor come in steps and are never empty") {
  const BlockUse usual = usual_soft_processor();
  const auto sized = [&](double program, double data) {
    MemoryNeed need;
    need.flash_bytes = {program, program, program};
    need.ram_bytes = data;
    const BlockUse use = sized_soft_processor(usual, need);
    return std::pair(use.settings.integer("program_bytes"), use.settings.integer("data_bytes"));
  };
  CHECK(sized(0, 0) == std::pair<std::uint64_t, std::uint64_t>(1024, 512));
  CHECK(sized(1024, 512) == std::pair<std::uint64_t, std::uint64_t>(1024, 512));
  CHECK(sized(1025, 513) == std::pair<std::uint64_t, std::uint64_t>(2048, 1024));
  CHECK(usual.settings.to_string().find("bits=32") != std::string::npos);
}

TEST_CASE("a schedule's memory is code, constants, variables and stack, and what every program has") {
  const MemoryNeed nothing = memory_need({});
  CHECK(nothing.flash_bytes.typical > 0);
  CHECK(nothing.ram_bytes > 0);
  Schedule schedule;
  schedule.memory.code_bytes = {80, 100, 130};
  schedule.memory.constant_bytes = 30;
  schedule.memory.ram_bytes = 20;
  schedule.memory.stack_bytes = 10;
  const MemoryNeed need = memory_need(schedule);
  CHECK(need.flash_bytes.low - nothing.flash_bytes.low == Approx(110));
  CHECK(need.flash_bytes.typical - nothing.flash_bytes.typical == Approx(130));
  CHECK(need.flash_bytes.high - nothing.flash_bytes.high == Approx(160));
  CHECK(need.ram_bytes - nothing.ram_bytes == Approx(30));
}
